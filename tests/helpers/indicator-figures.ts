import type { Exercise, Variant } from '../../src/core/exercises/exercise.ts';
import { judgeSet } from '../../src/core/exercises/judge-set.ts';
import type { FlagKind, SetJudgement } from '../../src/core/exercises/judgement.ts';
import { DEFAULT_THRESHOLDS } from '../../src/core/exercises/thresholds.ts';
import type { KinematicSeries } from '../../src/core/kinematics/kinematic-frame.ts';
import { alongLegs, secondsOfLegs, traceSeries, type Leg, type Posture } from './kinematic-traces.ts';

/** One trace, one thing to be noticed in it, and whether it should be. */
export interface IndicatorCase {
  readonly indicator: string;
  readonly situation: string;
  readonly expected: boolean;
  readonly got: () => boolean;
}

type Motion = (timeSeconds: number) => Omit<Posture, 'elbowDeg'>;

export const STILL: Motion = () => ({});

/** Seeded noise as of a good view: a degree in the angles, 0.02 upper-arm lengths in the points. */
export function judged(
  exercise: Exercise,
  seconds: number,
  posture: (timeSeconds: number) => Posture,
  variant: Variant | null = null,
): SetJudgement {
  const series: KinematicSeries = traceSeries({ seconds, posture, noiseDeg: 1, pointNoise: 0.02, seed: 7 });
  return judgeSet(series, { exercise, side: 'right', variant, statureCm: 170 }, DEFAULT_THRESHOLDS);
}

/** Legs of a hold: up to 90, the given legs there, let go. */
const holdLegs = (...there: readonly Leg[]): Leg[] => [
  { seconds: 1, to: 15 },
  { seconds: 1.5, to: 90 },
  ...there,
  { seconds: 1.2, to: 15 },
  { seconds: 1, to: 15 },
];

export function hold(there: readonly Leg[], motion: Motion = STILL, wobble: (t: number) => number = () => 0) {
  const legs = holdLegs(...there);
  const level = alongLegs(15, legs);
  return judged('hold', secondsOfLegs(legs), (t) => ({ ...motion(t), elbowDeg: level(t) + wobble(t) }));
}

export const STEADY: readonly Leg[] = [{ seconds: 12, to: 90 }];
/** The hold of STEADY begins about here and has reached its second half. */
export const MID_HOLD_SECONDS = 8;

export const repetition = (top: number, lowerSeconds = 3): Leg[] => [
  { seconds: 1.8, to: top },
  { seconds: 0.5, to: top },
  { seconds: lowerSeconds, to: 15 },
  { seconds: 0.7, to: 15 },
];

export const curlLegs = (...tops: readonly number[]): Leg[] => [
  { seconds: 1, to: 15 },
  ...tops.flatMap((top) => repetition(top)),
];

export const THREE = curlLegs(120, 120, 120);

/** A curl whose body's motion follows the elbow: 0 straight, 1 at 120 deg. */
export function curl(
  exercise: Exercise,
  legs: readonly Leg[],
  motion: (bent: number) => Omit<Posture, 'elbowDeg'>,
  variant: Variant | null = null,
) {
  const level = alongLegs(15, legs);
  const posture = (t: number): Posture => ({ ...motion((level(t) - 15) / 105), elbowDeg: level(t) });
  return judged(exercise, secondsOfLegs(legs), posture, variant);
}

/** Where the hands hold a high bar, for curls, and a low one, for rows: above feet that stand ahead of the body. */
export const HAND = { forward: -0.95, up: 0.2 };
const LOW_HAND = { forward: -0.8, up: -1.15 };
/** The upper arm keeps its angle in front of the trunk; the body leans back under the bar. */
export const strict = (bent: number) => ({
  leanDeg: 34 + 8 * bent,
  shoulderDeg: 80 - 3 * bent,
  handAt: HAND,
});
/** The same with the upper arm nearer to the trunk, and the shoulder helping a little, as it may. */
export const helped = (bent: number) => ({ leanDeg: 50, shoulderDeg: 50 - 16 * bent, handAt: HAND });
/** Arms start in front of the body and end behind it. */
export const row = (bent: number) => ({ leanDeg: 40, shoulderDeg: 32 - 70 * bent, handAt: LOW_HAND });
/** Arms start in front of the body and end beside it: the shoulder makes a third of the motion, and a seventh of the work. */
export const pullToTheSide = (bent: number) => ({
  leanDeg: 40,
  shoulderDeg: 40 - 38 * bent,
  handAt: LOW_HAND,
});

/** Throws where nothing was judged: a flag that is absent for that reason proves nothing. */
function flagged({ holds, repetitions }: SetJudgement, kind: FlagKind): boolean {
  const judgedParts = [...holds, ...repetitions];
  if (judgedParts.length === 0) throw new Error(`${kind}: nothing was judged in this trace.`);
  return judgedParts.some(({ flags }) =>
    flags.some((flag) => flag.kind === kind && flag.evidenceSeconds.length > 0),
  );
}

/** True where it shows in the first judgement and, as a second case, false where it does not in the second. */
export function flagCases(
  kind: FlagKind,
  shows: readonly [string, () => SetJudgement],
  not: readonly [string, () => SetJudgement],
): IndicatorCase[] {
  return [
    { indicator: kind, situation: shows[0], expected: true, got: () => flagged(shows[1](), kind) },
    { indicator: kind, situation: not[0], expected: false, got: () => flagged(not[1](), kind) },
  ];
}

/** Full and partial repetitions of a judgement. */
export function countsOf({ repetitions }: SetJudgement): { readonly full: number; readonly partial: number } {
  const partial = repetitions.filter((repetition) => repetition.partial).length;
  return { full: repetitions.length - partial, partial };
}
