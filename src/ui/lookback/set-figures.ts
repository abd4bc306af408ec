import type { Exercise } from '../../core/exercises/exercise.ts';
import type { FlagKind, Hold, Repetition } from '../../core/exercises/judgement.ts';
import { HARDEST_WORDS } from '../../core/feedback/answer-words.ts';
import { flagWords } from '../../core/feedback/flag-words.ts';
import { FORMS, intervalWords, valueWords, type QuantityForm } from '../../core/feedback/measure-words.ts';
import { isMeasured, valueOf, type Measured } from '../../core/kinematics/measured.ts';
import { median } from '../../core/math/statistics.ts';
import type { SetOutline } from '../../core/session/record-opener.ts';

/** A figure of the summary: its name, the figure with its unit, and what stands smaller beneath it. */
interface SummaryFigure {
  readonly name: string;
  readonly value: string;
  readonly beside: string;
}

/** Something to look at first: a sentence, where it shows, and which flag it is (null: a partial repetition). */
interface OddThing {
  readonly sentence: string;
  readonly seconds: number;
  readonly kind: FlagKind | null;
}

/** What the top of a set shows. */
export interface SetFigures {
  readonly figures: readonly SummaryFigure[];
  readonly odd: readonly OddThing[];
}

/** The summary of one set for the therapist: the figures of its exercise, and the odd things with their moments. */
export function figuresOf(set: SetOutline, exercise: Exercise): SetFigures {
  const { holds, repetitions } = set.judgement;
  const { share } = set.measuredTime;
  const measured: SummaryFigure = {
    name: 'time measured',
    value: share === null ? 'none' : valueWords(share, FORMS.share),
    beside: `of ${valueWords(set.measuredTime.totalSeconds, FORMS.seconds)}`,
  };
  const rest = [...feltFigures(set), ...painFigures(set), measured];
  if (exercise === 'hold') return { figures: [...holdFigures(set, holds), ...rest], odd: oddHolds(holds) };
  return {
    figures: [...repetitionFigures(repetitions, exercise), ...rest],
    odd: oddRepetitions(repetitions),
  };
}

/** Effort and place of a set of repetitions, where they were asked. */
function feltFigures({ answers: { effort, hardest } }: SetOutline): SummaryFigure[] {
  return [
    ...(effort === null
      ? []
      : [{ name: 'effort felt', value: String(effort), beside: 'of 10, over the set' }]),
    ...(hardest === null ? [] : [{ name: 'hardest', value: HARDEST_WORDS[hardest], beside: 'as felt' }]),
  ];
}

/** Pain before and after the set, where it was asked. */
function painFigures(set: SetOutline): SummaryFigure[] {
  const { painBefore, painAfter } = set.answers;
  if (painBefore === null && painAfter === null) return [];
  const said = (rating: number | null): string => (rating === null ? 'not said' : String(rating));
  return [
    {
      name: 'pain before, after',
      value: `${said(painBefore)}, ${said(painAfter)}`,
      beside: 'of 10, as said',
    },
  ];
}

/** How hard a hold felt: the answer, or the sentence that a camera cannot say more. */
export function effortWords(effort: number | null | undefined): string {
  return effort === null || effort === undefined ? 'position held, effort unknown' : `${effort} of 10`;
}

function holdFigures(set: SetOutline, holds: readonly Hold[]): SummaryFigure[] {
  const total = holds.reduce((sum, hold) => sum + hold.inRangeSeconds, 0);
  const longest = Math.max(0, ...holds.flatMap((hold) => hold.inRangeSpans.map(spanSeconds)));
  const efforts = holds.map((_, index) => set.answers.effortAfterHolds[index] ?? null);
  const answered = efforts.filter((effort) => effort !== null);
  return [
    { name: 'held in the target range', value: valueWords(total, FORMS.seconds), beside: '' },
    { name: 'holds', value: String(holds.length), beside: '' },
    { name: 'longest without a break', value: valueWords(longest, FORMS.seconds), beside: '' },
    ...(holds.length === 0
      ? []
      : [
          typical(
            'elbow flexion',
            holds.map((hold) => hold.meanFlexionDeg),
            FORMS.angleDeg,
          ),
        ]),
    {
      name: 'effort felt',
      value: answered.length === 0 ? 'unknown' : efforts.map((effort) => effort ?? '–').join(', '),
      beside:
        answered.length === 0
          ? holds.length === 0
            ? ''
            : 'position held, effort unknown'
          : 'of 10, hold by hold',
    },
  ];
}

function repetitionFigures(repetitions: readonly Repetition[], exercise: Exercise): SummaryFigure[] {
  const full = repetitions.filter((repetition) => !repetition.partial);
  const partial = repetitions.length - full.length;
  const lowering = median(full.map((repetition) => repetition.loweringSeconds));
  const judged = repetitions.filter((repetition) => repetition.shoulderDominant !== null);
  const dominant = judged.filter((repetition) => repetition.shoulderDominant === true).length;
  const travelCm = full.map((repetition) => repetition.torsoTravelCm);
  const inCm = travelCm.some(isMeasured);
  const travel = inCm ? travelCm : full.map((repetition) => repetition.torsoTravelUpperArms);
  return [
    { name: 'repetitions', value: String(full.length), beside: `and ${partial} partial` },
    ...(exercise === 'body-curl'
      ? [
          {
            name: 'shoulder-dominant',
            value: judged.length === 0 ? 'not measured' : String(dominant),
            beside: judged.length === 0 ? '' : `of ${judged.length} judged`,
          },
        ]
      : []),
    ...(lowering === null
      ? []
      : [{ name: 'lowering (eccentric)', value: valueWords(lowering, FORMS.seconds), beside: 'median' }]),
    ...(full.length === 0
      ? []
      : [
          typical(
            'range of the elbow',
            full.map((repetition) => repetition.rangeDeg),
            FORMS.angleDeg,
          ),
          ...(exercise === 'body-curl'
            ? [
                typical(
                  'torso travel',
                  travel,
                  inCm ? FORMS.travelCm : { ...FORMS.upperArms, unit: 'arm lengths' },
                ),
              ]
            : []),
        ]),
  ];
}

/** The middle one of several measured values, with its own interval. */
function typical(name: string, values: readonly Measured[], form: QuantityForm): SummaryFigure {
  const had = values.filter(isMeasured);
  const middle = [...had].sort((one, other) => one.value - other.value)[Math.floor((had.length - 1) / 2)];
  if (!middle) return { name, value: 'not measured', beside: '' };
  const interval = intervalWords(middle, form);
  const many = values.length > 1 ? ', median' : '';
  return {
    name,
    value: valueWords(valueOf(middle) ?? middle.value, form),
    beside: `${interval}${many}`.replace(/^, /, ''),
  };
}

/** Each kind of oddity once for each hold, a jump to the first. */
function oddHolds(holds: readonly Hold[]): OddThing[] {
  return holds.flatMap((hold, index) =>
    [...new Set(hold.flags.map((flag) => flag.kind))].flatMap((kind) => {
      const flag = hold.flags.find((candidate) => candidate.kind === kind);
      if (!flag) return [];
      const sentence = `Hold ${index + 1}: ${lowerFirst(flagWords(kind).therapist)}`;
      return [{ sentence, seconds: flag.evidenceSeconds[0] ?? flag.startSeconds, kind }];
    }),
  );
}

/** Repetitions by kind of oddity, the weightiest first: "Partial repetition: 2, 4", a jump to the first. */
function oddRepetitions(repetitions: readonly Repetition[]): OddThing[] {
  const found = new Map<FlagKind | 'partial', { numbers: number[]; seconds: number }>();
  const note = (kind: FlagKind | 'partial', number: number, seconds: number): void => {
    const entry = found.get(kind);
    if (!entry) found.set(kind, { numbers: [number], seconds });
    else if (!entry.numbers.includes(number)) entry.numbers.push(number);
  };
  repetitions.forEach((repetition, index) => {
    if (repetition.partial) note('partial', index + 1, repetition.startSeconds);
    for (const flag of repetition.flags) {
      note(flag.kind, index + 1, flag.evidenceSeconds[0] ?? flag.startSeconds);
    }
  });
  const weight = (kind: FlagKind | 'partial', count: number): number =>
    kind === 'shoulder-dominant' ? Infinity : kind === 'partial' ? repetitions.length + 1 : count;
  const entries = [...found.entries()].sort(
    ([one, { numbers }], [other, { numbers: others }]) =>
      weight(other, others.length) - weight(one, numbers.length),
  );
  return entries.map(([kind, { numbers, seconds }]) => ({
    sentence: `${kind === 'partial' ? 'Partial repetition' : flagWords(kind).therapist}: ${numbers.join(', ')}`,
    seconds,
    kind: kind === 'partial' ? null : kind,
  }));
}

function spanSeconds(span: { readonly startSeconds: number; readonly endSeconds: number }): number {
  return span.endSeconds - span.startSeconds;
}

function lowerFirst(words: string): string {
  return words.charAt(0).toLowerCase() + words.slice(1);
}
