import { DETECTABLE_CHANGE } from '../exercises/detectable-change.ts';
import type { Exercise } from '../exercises/exercise.ts';
import { worstPain } from './pain.ts';
import type { MeasuredDone, TrainingDay } from './training-day.ts';

/** What is followed over the weeks. The words for each stand in feedback/trend-words.ts. */
export type TrendMeasure =
  | 'pain-before'
  | 'pain-worst'
  | 'pain-next-morning'
  | 'tension'
  | 'impulse'
  | 'hold-angle'
  | 'hold-steadiness'
  | 'lowering'
  | 'shoulder-share'
  | 'range';

/** How one measure is had from a training day, and what change of it the tool can tell from chance. */
export interface TrendRow {
  readonly measure: TrendMeasure;
  /** The exercise that it belongs to; null for what the whole day has. */
  readonly exercise: Exercise | null;
  readonly unit: '0 to 10' | 's' | 'N m s' | 'deg' | 'share';
  /** A day's figure, or null when it has none. */
  readonly ofDay: (day: TrainingDay) => number | null;
  /**
   * Least detectable change with the camera put up anew, as seen on rendered people; null where none is known. A day does
   * not keep how square the camera stood, so that the larger figure is taken.
   */
  readonly tableChange: number | null;
  /** The same with nothing moved between the sets: what the chain itself costs, below which no change is ever told. */
  readonly leastChange: number | null;
}

const PAIN_ROWS: readonly TrendRow[] = [
  painRow('pain-before', ({ painBefore }) => painBefore),
  painRow('pain-worst', worstPain),
  painRow('pain-next-morning', ({ nextMorning }) => nextMorning?.pain ?? null),
];

const { hold, standing, 'body-curl': bodyCurl } = DETECTABLE_CHANGE;

/** Every measure that is followed, in the order in which it is shown. */
export const TREND_ROWS: readonly TrendRow[] = [
  ...PAIN_ROWS,
  ...doseRows('hold'),
  meanRow('hold-angle', 'hold', 'deg', 'meanHoldDeg', hold.holdElbowDeg),
  meanRow('hold-steadiness', 'hold', 'share', 'inRangeShare', null),
  ...doseRows('body-curl'),
  meanRow('lowering', 'body-curl', 's', 'loweringSeconds', bodyCurl.loweringSeconds),
  meanRow('shoulder-share', 'body-curl', 'share', 'shoulderShare', bodyCurl.shoulderShare),
  meanRow('range', 'body-curl', 'deg', 'rangeDeg', bodyCurl.rangeDeg),
  ...(['band-curl', 'free-curl'] as const).flatMap((exercise) => [
    ...doseRows(exercise),
    meanRow('lowering', exercise, 's', 'loweringSeconds', standing.loweringSeconds),
    meanRow('range', exercise, 'deg', 'rangeDeg', standing.rangeDeg),
  ]),
];

function painRow(measure: TrendMeasure, ofDay: TrendRow['ofDay']): TrendRow {
  return { measure, exercise: null, unit: '0 to 10', ofDay, tableChange: null, leastChange: null };
}

/** Sums over a day's sets of an exercise; null when it has none, or one set without the figure. */
function doseRows(exercise: Exercise): TrendRow[] {
  const sumRow = (
    measure: TrendMeasure,
    unit: TrendRow['unit'],
    pick: (done: MeasuredDone) => number | null,
  ): TrendRow => ({
    measure,
    exercise,
    unit,
    ofDay: (day) => {
      const values = setsOf(day, exercise).map((measured) => (measured === null ? null : pick(measured)));
      if (values.length === 0 || values.includes(null)) return null;
      return values.reduce((sum: number, value) => sum + (value ?? 0), 0);
    },
    tableChange: null,
    leastChange: null,
  });
  return [
    sumRow('tension', 's', ({ timeUnderTensionSeconds }) => timeUnderTensionSeconds),
    sumRow('impulse', 'N m s', ({ elbowImpulseNms }) => elbowImpulseNms?.value ?? null),
  ];
}

type MeanField = 'meanHoldDeg' | 'inRangeShare' | 'loweringSeconds' | 'shoulderShare' | 'rangeDeg';

/** Mean over a day's measured sets of an exercise; null when none has the figure. */
function meanRow(
  measure: TrendMeasure,
  exercise: Exercise,
  unit: TrendRow['unit'],
  field: MeanField,
  change: { readonly sameSetUp: number; readonly cameraTo45Deg: number } | null,
): TrendRow {
  return {
    measure,
    exercise,
    unit,
    ofDay: (day) => {
      const values = setsOf(day, exercise).flatMap((measured) => measured?.[field] ?? []);
      return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
    },
    tableChange: change?.cameraTo45Deg ?? null,
    leastChange: change?.sameSetUp ?? null,
  };
}

function setsOf(day: TrainingDay, exercise: Exercise): (MeasuredDone | null)[] {
  return day.exercises
    .filter((done) => done.exercise === exercise)
    .flatMap(({ sets }) => sets.map(({ measured }) => measured));
}
