import { z } from 'zod';
import type { Exercise } from './exercise.ts';

/** One threshold of judging: its default, the range a plan may set, what it does, and where the default comes from. */
interface ThresholdRow {
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly unit: string;
  readonly meaning: string;
  readonly source: string;
}

const PRACTICE = 'common practice, no source';
const OWN = 'chosen for this tool from the error of its angles; no published source';

const row = (
  [value, min, max]: readonly [number, number, number],
  unit: string,
  meaning: string,
  source: string,
): ThresholdRow => ({ value, min, max, unit, meaning, source });

/** Thresholds of the isometric hold. */
const HOLD_ROWS = {
  targetAngleDeg: row([90, 20, 140], 'deg', 'Elbow flexion that is to be held.', PRACTICE),
  toleranceDeg: row(
    [10, 3, 30],
    'deg',
    'The target range reaches this far either side of the target.',
    PRACTICE,
  ),
  rangeHysteresisDeg: row(
    [2, 0, 10],
    'deg',
    'A hold goes on while flexion passes the range by no more than this; that time is not counted all the same.',
    OWN,
  ),
  holdSpeedDegPerS: row(
    [20, 5, 90],
    'deg/s',
    'Faster movement (slope over the speed window) is not holding. Above tremor and slow drift, below a bend.',
    PRACTICE,
  ),
  holdSpeedHysteresis: row(
    [1.5, 1, 3],
    'times',
    'A hold goes on up to this many times the speed limit; that time is not counted all the same.',
    OWN,
  ),
  speedWindowSeconds: row(
    [0.6, 0.2, 1.5],
    's',
    'Speed is the slope of a line through this much of the trace, so that a tremor of 4 to 12 Hz averages out.',
    'tremor frequencies: Deuschl et al. 1998, Mov Disord 13 Suppl 3 (from memory); window chosen for this tool',
  ),
  confirmSeconds: row(
    [0.5, 0.1, 2],
    's',
    'Entering and leaving the target range are confirmed after this time and dated back to the crossing.',
    PRACTICE,
  ),
  shortestRunSeconds: row([1, 0, 5], 's', 'Shorter stays in the target range are dropped.', PRACTICE),
  holdSeparationSeconds: row(
    [5, 1, 60],
    's',
    'Out of the range, or unseen, for longer than this ends the hold; coming back sooner goes on with it.',
    PRACTICE,
  ),
  letGoSpeedDegPerS: row(
    [6, 1, 30],
    'deg/s',
    'A hold that ends faster than this was ended on purpose; slower, it drifted out of the range.',
    PRACTICE,
  ),
  driftDegPer10s: row(
    [4, 1, 20],
    'deg per 10 s',
    'Steady change of the held angle that is noticed.',
    PRACTICE,
  ),
  unsteadySdDeg: row(
    [3, 1, 10],
    'deg',
    'Standard deviation about the drift line from which a hold counts as unsteady.',
    OWN,
  ),
  forearmLevelDeg: row([15, 5, 45], 'deg', 'How far the forearm may be from level in a hold.', PRACTICE),
  elbowPlaceUpperArms: row(
    [0.35, 0.1, 0.9],
    'upper-arm lengths',
    'How far in front of or behind the shoulder the elbow may be held (0.35 is an upper arm 20 deg from hanging).',
    PRACTICE,
  ),
  elbowDriftUpperArms: row(
    [0.15, 0.05, 0.5],
    'upper-arm lengths',
    'How far the elbow may drift forward or back during a hold.',
    PRACTICE,
  ),
  handRiseUpperArms: row(
    [0.12, 0.04, 0.5],
    'upper-arm lengths',
    'Rise of the hand above its first place in the hold from which the bar is said to lift (about 4 cm).',
    OWN,
  ),
  handOffBarUpperArms: row(
    [0.25, 0.05, 1],
    'upper-arm lengths',
    'How far the hand may move along or fall below its first place in the hold and still be under the bar.',
    OWN,
  ),
} satisfies Record<string, ThresholdRow>;

/** Thresholds of counting and timing repetitions. */
const REPETITION_ROWS = {
  smallestRangeDeg: row([15, 5, 60], 'deg', 'Smaller movements of the elbow are never repetitions.', OWN),
  smallestRangeShare: row(
    [0.3, 0.1, 0.6],
    'share',
    "Movements under this share of the set's usual range are not repetitions: shaking, a change of grip.",
    PRACTICE,
  ),
  partialShare: row(
    [0.7, 0.3, 0.95],
    'share',
    "Under this share of the planned range, or of the set's usual range where none is planned, a repetition is partial.",
    PRACTICE,
  ),
  shortestRepetitionSeconds: row(
    [0.6, 0.2, 3],
    's',
    'Shorter up-and-down movements are shaking, not repetitions.',
    PRACTICE,
  ),
  gapInRepetitionSeconds: row(
    [1, 0.25, 3],
    's',
    'A repetition with a longer gap in it is not counted: a turn could hide in it.',
    OWN,
  ),
  walkingUpperArms: row(
    [0.8, 0.5, 5],
    'upper-arm lengths',
    'Feet (hips where the feet are not seen) that move this far within a repetition: walking, not a repetition.',
    OWN,
  ),
  shortestLoweringSeconds: row(
    [2, 0.3, 10],
    's',
    'A lowering over the usual range that takes less is fast; a shorter range has proportionately less time.',
    'common practice; slow-resistance programmes use 3 s (Kongsgaard et al. 2009, from memory)',
  ),
  middleShare: row(
    [0.34, 0.1, 0.9],
    'share',
    'The middle of the range is its central part of this size.',
    PRACTICE,
  ),
  bentEndShare: row(
    [0.15, 0.02, 0.5],
    'share',
    'The bent end counts as reached within this share of the range from its top.',
    PRACTICE,
  ),
  upperArmMovementDeg: row(
    [20, 5, 60],
    'deg',
    'Change of the angle of upper arm and trunk within a curl from which the upper arm counts as moving.',
    PRACTICE,
  ),
  trunkSwayDeg: row(
    [12, 3, 45],
    'deg',
    'Change of the trunk inclination within a curl that is noticed.',
    PRACTICE,
  ),
  supinatedAtLeastDeg: row([30, 0, 80], 'deg', 'Mean supination that a palm-up curl asks for.', PRACTICE),
  turningAtLeastDeg: row(
    [50, 10, 140],
    'deg',
    'Change of forearm rotation that a turning curl asks for.',
    PRACTICE,
  ),
} satisfies Record<string, ThresholdRow>;

/** Thresholds of curl or row in the body-moving curl. */
const ROW_ROWS = {
  shoulderWorkShare: row(
    [0.5, 0.2, 0.8],
    'share',
    "The shoulder's share of the work of lifting from which a repetition is shoulder-dominant.",
    'half is what the word says; from which share a tendon is harmed is not known: common practice, no source',
  ),
  workShareGreyZone: row(
    [0.15, 0.02, 0.4],
    'share',
    'Width of the grey zone about that share: an estimate whose interval covers all of it is not judged.',
    OWN,
  ),
  shoulderShare: row(
    [0.25, 0.1, 0.6],
    'share',
    "The shoulder's share of the motion from which it is named as a sign of a row.",
    PRACTICE,
  ),
  shoulderShareNormal: row(
    [0.1, 0, 0.3],
    'share',
    'A share of the motion up to this is normal in a strict curl; the interval must lie above it for the sign.',
    PRACTICE,
  ),
  elbowBehindTrunkUpperArms: row(
    [0.15, 0.02, 0.6],
    'upper-arm lengths',
    'Elbow this far behind the trunk is named as a sign of a row (0.15 is an upper arm 9 deg behind).',
    PRACTICE,
  ),
  momentNearZeroUpperArms: row(
    [0.06, 0.01, 0.3],
    'upper-arm lengths',
    'Levers shorter than this give no share of the moment: the arm hangs straight.',
    OWN,
  ),
  forceTiltDeg: row(
    [20, 0, 45],
    'deg',
    'The hand force may be tilted this far from the vertical, because friction at the feet is unknown.',
    PRACTICE,
  ),
  handClosingUpperArms: row(
    [0.5, 0.1, 1.5],
    'upper-arm lengths',
    'Hand that comes this much nearer to the trunk line is named as a sign of a row.',
    PRACTICE,
  ),
  upperArmForwardDeg: row(
    [20, 5, 60],
    'deg',
    'Upper arm that goes forward this much while the elbow bends is noticed.',
    PRACTICE,
  ),
  hipSagDeg: row([20, 5, 60], 'deg', 'Bending of the hip within a repetition that is noticed.', PRACTICE),
  handSlipUpperArms: row(
    [0.25, 0.05, 1],
    'upper-arm lengths',
    'Hand that leaves its place this far: the hands are to stay.',
    OWN,
  ),
} satisfies Record<string, ThresholdRow>;

/** Every threshold of judging with its default, its permitted range, its meaning and its source. */
export const THRESHOLD_TABLE = { ...HOLD_ROWS, ...REPETITION_ROWS, ...ROW_ROWS };

/** The name of a threshold; its unit ends the name where it has one. */
export type ThresholdName = keyof typeof THRESHOLD_TABLE;

/** The names in the table's order. */
// Object.keys of a literal const gives exactly its keys; TypeScript types them as string only because objects are open.
export const THRESHOLD_NAMES = Object.keys(THRESHOLD_TABLE) as readonly ThresholdName[];

/** The thresholds that judge an exercise, in the table's order. */
export function thresholdNamesOf(exercise: Exercise): readonly ThresholdName[] {
  const isOf =
    (rows: object): ((name: ThresholdName) => boolean) =>
    (name) =>
      name in rows;
  if (exercise === 'hold') return THRESHOLD_NAMES.filter(isOf(HOLD_ROWS));
  const rows = exercise === 'body-curl' ? { ...REPETITION_ROWS, ...ROW_ROWS } : REPETITION_ROWS;
  return THRESHOLD_NAMES.filter(isOf(rows));
}

const perName = <T>(make: (row: ThresholdRow) => T): Record<ThresholdName, T> =>
  // Every name is given a value, so the record is complete.
  Object.fromEntries(THRESHOLD_NAMES.map((name) => [name, make(THRESHOLD_TABLE[name])])) as Record<
    ThresholdName,
    T
  >;

/**
 * Every threshold used in judging, as kept with a record. plannedStartFlexionDeg and plannedTopFlexionDeg are the
 * planned ends of a repetition; null where none is planned, then the set's own usual ends take their place.
 */
export const thresholdsSchema = z.object({
  ...perName(({ min, max }) => z.number().min(min).max(max)),
  plannedStartFlexionDeg: z.number().min(-20).max(150).nullable(),
  plannedTopFlexionDeg: z.number().min(0).max(170).nullable(),
});
export type Thresholds = z.infer<typeof thresholdsSchema>;

/** The thresholds where a plan says nothing else. */
export const DEFAULT_THRESHOLDS: Thresholds = {
  ...perName(({ value }) => value),
  plannedStartFlexionDeg: null,
  plannedTopFlexionDeg: null,
};
