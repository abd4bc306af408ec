import { DETECTABLE_CHANGE } from '../exercises/detectable-change.ts';
import type { Exercise } from '../exercises/exercise.ts';
import type { Hold, Repetition } from '../exercises/judgement.ts';
import { valueOf } from '../kinematics/measured.ts';
import { changeLimitOf, type ChangeLimit } from '../plan/trend.ts';
import { TREND_ROWS, type TrendMeasure } from '../plan/trend-measures.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import type { RecordOutline } from '../session/record-opener.ts';
import { spreadOf } from './compare-curves.ts';

/** What is set beside each other. The words for each stand in feedback/compare-words.ts. */
export type ComparedMeasure =
  | 'range'
  | 'top'
  | 'bending-time'
  | 'lowering'
  | 'travel'
  | 'shoulder-share'
  | 'hold-angle'
  | 'held'
  | 'hold-steadiness'
  | 'hand-rise';

/** One side of a comparison: holds or repetitions of one session, as they stand after its review. */
export interface ComparedSide {
  readonly outline: Pick<RecordOutline, 'id' | 'settings' | 'createdAt'>;
  /** How far from square the camera stood, for each hold or repetition; null where it is not known. */
  readonly yawDegs: readonly (number | null)[];
  readonly holds: readonly Hold[];
  readonly repetitions: readonly Repetition[];
  /** One hold or repetition was chosen: what may be chance is known of means only. */
  readonly isSingle: boolean;
}

/** A figure of one side: mean over what was measured, its spread, and of how many. */
export interface SideFigure {
  readonly mean: number | null;
  readonly sd: number | null;
  readonly count: number;
  /** How many holds or repetitions there are. */
  readonly of: number;
}

/** Why nothing is said of a difference. */
type Untold = 'not-measured' | 'single' | 'other-exercise' | 'other-arm' | 'limit-unknown';

/** A figure of both sides, and what became of it from the first to the second. */
export interface ComparedFigure {
  readonly measure: ComparedMeasure;
  readonly unit: 'deg' | 's' | 'cm' | 'share' | 'upper-arms';
  readonly first: SideFigure;
  readonly second: SideFigure;
  /** Second less first; null where one is missing. */
  readonly change: number | null;
  readonly limit: ChangeLimit | null;
  readonly verdict: 'more' | 'less' | 'no-change' | Untold;
}

interface Row {
  readonly measure: ComparedMeasure;
  readonly unit: ComparedFigure['unit'];
  readonly of: (side: ComparedSide) => readonly (number | null)[];
}

const ofRepetitions =
  (pick: (repetition: Repetition) => number | null): Row['of'] =>
  ({ repetitions }) =>
    repetitions.map(pick);
const ofHolds =
  (pick: (hold: Hold) => number | null): Row['of'] =>
  ({ holds }) =>
    holds.map(pick);

const REPETITION_ROWS: readonly Row[] = [
  { measure: 'range', unit: 'deg', of: ofRepetitions(({ rangeDeg }) => valueOf(rangeDeg)) },
  { measure: 'top', unit: 'deg', of: ofRepetitions(({ topFlexionDeg }) => valueOf(topFlexionDeg)) },
  { measure: 'bending-time', unit: 's', of: ofRepetitions(({ shorteningSeconds }) => shorteningSeconds) },
  { measure: 'lowering', unit: 's', of: ofRepetitions(({ loweringSeconds }) => loweringSeconds) },
  { measure: 'travel', unit: 'cm', of: ofRepetitions(({ torsoTravelCm }) => valueOf(torsoTravelCm)) },
];
const SHOULDER_ROW: Row = {
  measure: 'shoulder-share',
  unit: 'share',
  of: ofRepetitions(({ row }) => (row === null ? null : valueOf(row.shoulderShare))),
};
const HOLD_ROWS: readonly Row[] = [
  { measure: 'hold-angle', unit: 'deg', of: ofHolds(({ meanFlexionDeg }) => valueOf(meanFlexionDeg)) },
  { measure: 'held', unit: 's', of: ofHolds(({ inRangeSeconds }) => inRangeSeconds) },
  { measure: 'hold-steadiness', unit: 'share', of: ofHolds(({ inRangeShare }) => inRangeShare) },
  {
    measure: 'hand-rise',
    unit: 'upper-arms',
    of: ofHolds(({ handRiseUpperArms }) => valueOf(handRiseUpperArms)),
  },
];

/** The camera may stand so far from square, degrees, for the nearer and the farther column of the table of changes. */
const NEARLY_SQUARE_DEG = 20;
const FARTHEST_DEG = 45;

/**
 * Both sides' figures with what changed beyond the least detectable change: by the person's own sessions where there are
 * enough of them, else by the table of rendered people (docs/repeatability.md). Nothing is said of a single repetition, of
 * two exercises or of two arms.
 * @param days - training days of the plan that both sessions followed; none where they followed none or two
 */
export function compareFigures(
  first: ComparedSide,
  second: ComparedSide,
  days: readonly TrainingDay[],
): ComparedFigure[] {
  const exercise = first.outline.settings.exercise;
  const rows =
    exercise === 'hold'
      ? HOLD_ROWS
      : exercise === 'body-curl'
        ? [...REPETITION_ROWS, SHOULDER_ROW]
        : REPETITION_ROWS;
  return rows
    .map((row): ComparedFigure => {
      const [one, other] = [figureOf(row, first), figureOf(row, second)];
      const change = one.mean === null || other.mean === null ? null : other.mean - one.mean;
      const limit = limitOf(row.measure, first, second, days);
      const { measure, unit } = row;
      const verdict = untoldOf(first, second) ?? verdictOf(change, limit);
      return { measure, unit, first: one, second: other, change, limit, verdict };
    })
    .filter(({ first: one, second: other }) => one.mean !== null || other.mean !== null);
}

function figureOf(row: Row, side: ComparedSide): SideFigure {
  const all = row.of(side);
  const values = all.flatMap((value) => value ?? []);
  return { ...spreadOf(values), count: values.length, of: all.length };
}

function untoldOf(first: ComparedSide, second: ComparedSide): Untold | null {
  const [one, other] = [first.outline.settings, second.outline.settings];
  if (one.exercise !== other.exercise) return 'other-exercise';
  if (one.side !== other.side) return 'other-arm';
  return first.isSingle || second.isSingle ? 'single' : null;
}

function verdictOf(change: number | null, limit: ChangeLimit | null): ComparedFigure['verdict'] {
  if (change === null) return 'not-measured';
  if (limit === null) return 'limit-unknown';
  if (Math.abs(change) < limit.value) return 'no-change';
  return change > 0 ? 'more' : 'less';
}

const AS_TREND: Partial<Record<ComparedMeasure, TrendMeasure>> = {
  range: 'range',
  lowering: 'lowering',
  'shoulder-share': 'shoulder-share',
  'hold-angle': 'hold-angle',
  'hold-steadiness': 'hold-steadiness',
};

function limitOf(
  measure: ComparedMeasure,
  first: ComparedSide,
  second: ComparedSide,
  days: readonly TrainingDay[],
): ChangeLimit | null {
  const { exercise } = first.outline.settings;
  const isSameSession = first.outline.id === second.outline.id;
  const row = TREND_ROWS.find((each) => each.exercise === exercise && each.measure === AS_TREND[measure]);
  const known = row === undefined || isSameSession ? null : changeLimitOf(row, days);
  if (known?.from === 'own-sessions') return known;
  const table = tableOf(exercise, measure);
  const yaw = Math.max(
    0,
    ...[...first.yawDegs, ...second.yawDegs].map((yawDeg) => Math.abs(yawDeg ?? FARTHEST_DEG)),
  );
  if (table === null || yaw > FARTHEST_DEG) return null;
  const value = isSameSession
    ? table.sameSetUp
    : yaw <= NEARLY_SQUARE_DEG
      ? table.cameraTo20Deg
      : table.cameraTo45Deg;
  return { value, from: 'table', sessionCount: 0 };
}

interface TableRow {
  readonly sameSetUp: number;
  readonly cameraTo20Deg: number;
  readonly cameraTo45Deg: number;
}

function tableOf(exercise: Exercise, measure: ComparedMeasure): TableRow | null {
  const { hold, standing, 'body-curl': bodyCurl } = DETECTABLE_CHANGE;
  if (exercise === 'hold') return measure === 'hold-angle' ? hold.holdElbowDeg : null;
  const table = exercise === 'body-curl' ? bodyCurl : standing;
  if (measure === 'range') return table.rangeDeg;
  if (measure === 'lowering') return table.loweringSeconds;
  if (exercise !== 'body-curl') return null;
  if (measure === 'shoulder-share') return bodyCurl.shoulderShare;
  return measure === 'travel' ? bodyCurl.torsoTravelCm : null;
}
