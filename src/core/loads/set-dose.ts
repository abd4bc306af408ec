import type { SetJudgement, Span } from '../exercises/judgement.ts';
import { interpolateTable } from '../math/statistics.ts';
import { isKnown, sumOf, type LoadFigure } from './load-figure.ts';
import { elbowMomentOf, type LoadedExercise } from './loaded-exercise.ts';

/** A measured elbow over a set: rising times in seconds, flexion in degrees, NaN where it was not measured. */
export interface FlexionSeries {
  readonly timesSeconds: ArrayLike<number>;
  readonly flexionDeg: ArrayLike<number>;
}

/** What a set came to for the flexors of one arm. */
export interface SetDose {
  /** Time in which the elbow worked; least leaves out what was not seen. */
  readonly timeUnderTensionSeconds: LoadFigure;
  /** Elbow flexor moment times time, newton metre seconds; null when no moment is known at the angles used. */
  readonly elbowImpulseNms: LoadFigure | null;
}

/** The spans in which the elbow worked: every hold and every repetition, partial ones too. */
export function workSpans({ holds, repetitions }: SetJudgement): Span[] {
  return [...holds, ...repetitions];
}

/** Angles for which a moment is worked out once and then looked up, degrees. Anatomy ends before 160. */
const TABLE = { fromDeg: -20, toDeg: 160, stepDeg: 4 } as const;

/** What the flexors hold, by angle; never below 0. */
interface MomentTable {
  readonly anglesDeg: readonly number[];
  readonly value: readonly number[];
  readonly least: readonly number[];
  readonly most: readonly number[];
}

/** Moments over the angles at which they are known, or null where none is. */
function momentTable(exercise: LoadedExercise): MomentTable | null {
  const momentAt = elbowMomentOf(exercise);
  const anglesDeg: number[] = [];
  const figures: LoadFigure[] = [];
  for (let deg = TABLE.fromDeg; deg <= TABLE.toDeg; deg += TABLE.stepDeg) {
    const moment = momentAt(deg);
    if (!isKnown(moment)) continue;
    anglesDeg.push(deg);
    figures.push(moment);
  }
  const held = (pick: (figure: LoadFigure) => number): number[] =>
    figures.map((figure) => Math.max(0, pick(figure)));
  if (figures.length === 0) return null;
  return {
    anglesDeg,
    value: held(({ value }) => value),
    least: held(({ least }) => least),
    most: held(({ most }) => most),
  };
}

/**
 * Time under tension and impulse of one set, from its measured elbow. Only what the flexors hold counts; a moment the other
 * way counts as none. Time unseen is given the mean of what was seen, none for the least, the largest moment of the
 * set for the most. Outside the angles where the moment is known, that of the nearest known angle is taken.
 *
 * Of a hold on a bar the moment is what the bar can ask at most: effort is not seen, so the least is the forearm's share of
 * nothing, 0.
 * @param spans - in which the elbow worked, see workSpans; overlapping time counts once for each
 */
export function setDose(series: FlexionSeries, spans: readonly Span[], exercise: LoadedExercise): SetDose {
  const table = momentTable(exercise);
  const doses = spans.map((span) => spanDose(series, span, table, exercise.equipment.kind === 'bar'));
  const impulses = doses.flatMap(({ elbowImpulseNms }) => elbowImpulseNms ?? []);
  return {
    timeUnderTensionSeconds: sumOf(
      doses.map(({ timeUnderTensionSeconds }) => timeUnderTensionSeconds),
      'time-under-tension',
    ),
    // One span without a figure would make the sum too small without saying so.
    elbowImpulseNms:
      impulses.length === doses.length && table !== null ? sumOf(impulses, 'elbow-impulse') : null,
  };
}

function spanDose(
  { timesSeconds, flexionDeg }: FlexionSeries,
  { startSeconds, endSeconds }: Span,
  table: MomentTable | null,
  isCeiling: boolean,
): SetDose {
  const wholeSeconds = Math.max(0, endSeconds - startSeconds);
  let seenSeconds = 0;
  const impulse = { value: 0, least: 0, most: 0 };
  let largest = 0;
  for (let i = 0; i + 1 < timesSeconds.length; i++) {
    const [from, to] = [timesSeconds[i] ?? NaN, timesSeconds[i + 1] ?? NaN];
    const seconds = Math.min(to, endSeconds) - Math.max(from, startSeconds);
    const meanDeg = ((flexionDeg[i] ?? NaN) + (flexionDeg[i + 1] ?? NaN)) / 2;
    if (!(seconds > 0) || Number.isNaN(meanDeg)) continue;
    seenSeconds += seconds;
    if (table === null) continue;
    const momentNm = (bound: 'value' | 'least' | 'most'): number =>
      interpolateTable(table.anglesDeg, table[bound], meanDeg);
    impulse.value += seconds * momentNm('value');
    impulse.least += isCeiling ? 0 : seconds * momentNm('least');
    impulse.most += seconds * momentNm('most');
    largest = Math.max(largest, momentNm('most'));
  }
  const seen = Math.min(wholeSeconds, seenSeconds);
  const unseen = wholeSeconds - seen;
  const of = 'elbow-impulse';
  return {
    timeUnderTensionSeconds: {
      value: wholeSeconds,
      least: seen,
      most: wholeSeconds,
      of: 'time-under-tension',
    },
    elbowImpulseNms:
      table === null || seenSeconds === 0
        ? null
        : {
            value: impulse.value * (1 + unseen / seenSeconds),
            least: impulse.least,
            most: impulse.most + unseen * largest,
            of,
          },
  };
}
