import { toDegrees, toRadians } from '../math/angle.ts';
import type { Bar } from './equipment.ts';
import { SEATED_LEAN_DEG, SEATED_LEAN_TO_OPEN_SIDE_DEG } from './load-limits.ts';

/** Where supports let a bar out. */
export type SupportShape = Bar['supportShape'];

/** What a pull does to a bar in its supports. */
export type BarSeat = 'seated' | 'lifts' | 'rolls-out' | 'tips';

/** Ways of pulling that are drawn: degrees from straight up, growing towards the side on which the supports are open. */
export const PULL_DIRECTIONS_DEG = [0, 45, 90, 135, 180, 225, 270, 315] as const;

/**
 * Whether a bar stays in its supports under a pull, from the sum of pull and weight at the supports. A hook that is open above
 * holds what leans less than its walls; one that is open in front has a floor and a back and is trusted with nothing
 * upward, since what is above the bar is not known; a ring holds all.
 * @param shape - where the supports are open
 * @param directionDeg - of the pull on the bar, from straight up towards the open side (for a hook open above: either)
 * @param forceN - all hands together, at least 0
 * @param weightN - of the bar
 */
export function barSeat(shape: SupportShape, directionDeg: number, forceN: number, weightN: number): BarSeat {
  if (shape === 'closed') return 'seated';
  const towardsOpenN = forceN * Math.sin(toRadians(directionDeg));
  const downN = weightN - forceN * Math.cos(toRadians(directionDeg));
  if (downN <= 0) return 'lifts';
  const leanDeg = toDegrees(Math.atan2(towardsOpenN, downN));
  if (shape === 'open-above') return Math.abs(leanDeg) > SEATED_LEAN_DEG ? 'rolls-out' : 'seated';
  return leanDeg > SEATED_LEAN_TO_OPEN_SIDE_DEG ? 'rolls-out' : 'seated';
}

/** One way of pulling and what it does. */
export interface PullOutcome {
  readonly directionDeg: number;
  readonly seat: BarSeat;
}

/** Every drawn way of pulling with one force, and what it does to the bar. */
export function pullOutcomes(shape: SupportShape, forceN: number, weightN: number): PullOutcome[] {
  return PULL_DIRECTIONS_DEG.map((directionDeg) => ({
    directionDeg,
    seat: barSeat(shape, directionDeg, forceN, weightN),
  }));
}
