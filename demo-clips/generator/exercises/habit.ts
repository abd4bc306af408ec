import { toRadians } from '../vector.ts';
import { UNMOVED_SHOULDER, type ShoulderShift } from '../skeleton.ts';
import type { LifeSizes } from './life.ts';

/** What differs between people in how they carry themselves. */
export interface Habit {
  readonly life: LifeSizes;
  readonly scapula: ScapulaHabit;
}

/** How far the shoulder blade takes the shoulder joint along the trunk, in metres. */
interface ScapulaHabit {
  /** With the upper arm raised forward to a right angle; as far back when it is behind the trunk. */
  readonly forwardAtRightAngleM: number;
  readonly upAtRightAngleM: number;
  /** From the start of the set to its end. */
  readonly forwardOverSetM: number;
  readonly upOverSetM: number;
}

/**
 * Where the shoulder blade has the shoulder joint: it follows the raised arm and gives way slowly over the set. That it
 * does both is common knowledge; the law (sine and 1 - cosine of the elevation, evenly over the set) has no source.
 * @param setShare - how much of the set is over, 0 to 1
 */
export function habitualShift(
  habit: Habit | undefined,
  shoulderFlexionDeg: number,
  setShare: number,
): ShoulderShift {
  if (habit === undefined) return UNMOVED_SHOULDER;
  const { forwardAtRightAngleM, upAtRightAngleM, forwardOverSetM, upOverSetM } = habit.scapula;
  const elevation = toRadians(shoulderFlexionDeg);
  return {
    forwardM: forwardAtRightAngleM * Math.sin(elevation) + forwardOverSetM * setShare,
    upM: upAtRightAngleM * (1 - Math.cos(elevation)) + upOverSetM * setShare,
  };
}
