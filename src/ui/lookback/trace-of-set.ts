import type { Exercise } from '../../core/exercises/exercise.ts';
import type { Flag, Phase, SetJudgement } from '../../core/exercises/judgement.ts';
import { phasesOf } from '../../core/exercises/phases-of.ts';
import { flagWords } from '../../core/feedback/flag-words.ts';
import { FORMS, type QuantityForm } from '../../core/feedback/measure-words.ts';
import {
  phaseOfFrame,
  reasonAt,
  type MeasuredSet,
  type ShownMeasure,
} from '../../core/session/measured-set.ts';
import type { PhaseShape, TraceFlag, TraceMeasure, TracePhase } from '../charts/trace-types.ts';

/** What can be shown of a set, in the order in which it is offered. */
const MEASURES: readonly {
  readonly key: string;
  readonly name: string;
  readonly form: QuantityForm;
  readonly of: ShownMeasure;
  readonly scale: { readonly low: number; readonly high: number };
}[] = [
  {
    key: 'elbow',
    name: 'Elbow flexion',
    form: FORMS.angleDeg,
    of: 'elbowFlexionDeg',
    scale: { low: 0, high: 150 },
  },
  {
    key: 'shoulder',
    name: 'Shoulder flexion',
    form: FORMS.angleDeg,
    of: 'shoulderFlexionDeg',
    scale: { low: -30, high: 90 },
  },
  {
    key: 'trunk',
    name: 'Trunk inclination',
    form: FORMS.angleDeg,
    of: 'trunkInclinationDeg',
    scale: { low: 0, high: 90 },
  },
  {
    key: 'travel-cm',
    name: 'Torso travel',
    form: FORMS.travelCm,
    of: 'torsoTravelCm',
    scale: { low: 0, high: 20 },
  },
  {
    key: 'travel-arms',
    name: 'Torso travel',
    form: FORMS.upperArms,
    of: 'torsoTravelUpperArms',
    scale: { low: 0, high: 0.6 },
  },
  {
    key: 'forearm',
    name: 'Forearm from level',
    form: FORMS.angleDeg,
    of: 'forearmFromHorizontalDeg',
    scale: { low: -45, high: 45 },
  },
];

/**
 * The measures of a set for the chart. Torso travel comes in centimetres where the height was given, else in
 * upper-arm lengths: one of the two, never both. target is the hold's target range in degrees, or null.
 */
export function measuresOf(
  { timesSeconds, columns, view }: MeasuredSet,
  target: { readonly low: number; readonly high: number } | null,
): TraceMeasure[] {
  const hidden = view.upperArmCm === null ? 'travel-cm' : 'travel-arms';
  return MEASURES.filter((measure) => measure.key !== hidden).map(({ key, name, form, of, scale }) => ({
    key,
    name,
    form,
    scale,
    target: key === 'elbow' ? target : null,
    timesSeconds,
    column: columns[of],
  }));
}

/** The measures that are shown at first: what each exercise is judged by. */
export function firstShown(exercise: Exercise, { view }: MeasuredSet): string[] {
  if (exercise === 'hold') return ['elbow', 'forearm'];
  if (exercise !== 'body-curl') return ['elbow', 'shoulder'];
  return ['elbow', 'shoulder', view.upperArmCm === null ? 'travel-arms' : 'travel-cm'];
}

const PHASE_LOOKS: Readonly<Record<Phase, { readonly word: string; readonly shape: PhaseShape }>> = {
  rest: { word: 'rest', shape: 'flat' },
  'in-range': { word: 'in range', shape: 'within' },
  bending: { word: 'bending', shape: 'rising' },
  top: { word: 'top', shape: 'top' },
  lowering: { word: 'lowering', shape: 'falling' },
};

/**
 * The phases of a set as stretches; a stretch ends where the next begins. A frame that was not measured has no phase:
 * the strip stays blank there, as the curve does.
 * @param corrected - the judgement as it stands where it was corrected; null: as the program judged it
 */
export function phaseStretches(set: MeasuredSet, corrected: SetJudgement | null): TracePhase[] {
  const { timesSeconds, reasons } = set;
  const phases =
    corrected === null
      ? null
      : phasesOf(
          Array.from(timesSeconds, (timeSeconds) => ({ timeSeconds })),
          corrected,
        );
  const phaseOf = (index: number): Phase | null =>
    reasonAt(reasons, index) === null ? (phases?.[index] ?? phaseOfFrame(set, index)) : null;
  const stretches: TracePhase[] = [];
  const last = timesSeconds.length - 1;
  let startSeconds = timesSeconds[0] ?? 0;
  for (let index = 0; index <= last; index++) {
    const phase = phaseOf(index);
    if (index < last && phaseOf(index + 1) === phase) continue;
    const boundary = timesSeconds[Math.min(last, index + 1)] ?? startSeconds;
    if (phase !== null) stretches.push({ startSeconds, endSeconds: boundary, ...PHASE_LOOKS[phase] });
    startSeconds = boundary;
  }
  return stretches;
}

/** Every evidence moment of every flag, in order of time, for the chart's markers. */
export function flagMoments(flags: readonly Flag[]): TraceFlag[] {
  return flags
    .flatMap(({ kind, startSeconds, evidenceSeconds }) =>
      (evidenceSeconds.length === 0 ? [startSeconds] : evidenceSeconds).map((atSeconds) => ({
        atSeconds,
        word: flagWords(kind).therapist,
      })),
    )
    .sort((one, other) => one.atSeconds - other.atSeconds);
}
