import { interpolateTable } from '../math/statistics.ts';
import type { PlanePoint } from './kinematic-frame.ts';

/** Two-sided 95 % of a normal distribution. */
export const Z95 = 1.96;

/**
 * 95th percentile of an angle's error, degrees, by the camera's estimated yaw: the least half-width of a 95 % interval.
 * Shoulder and trunk: the 195 sets of the developing set of rendered people. The other elbow, half hidden and taken in the
 * turned picture: the demo clips (8 square, 14.5 at 18 and 18 at 31 degrees); from 45 on a little over what a wider trial
 * gave for stretched pictures.
 */
const VIEW_ERROR_DEG = {
  yaw: [0, 8, 15, 30, 45, 60],
  otherElbow: [8, 9, 14, 18, 24, 33],
  shoulder: [7.5, 8, 8.5, 11, 15, 24],
  trunk: [4.5, 4.5, 4.5, 5.5, 6.5, 8],
};

/** Scatter of a landmark that stays within a set, one standard deviation, upper-arm lengths. Same source. */
const SYSTEMATIC_SD_UPPER_ARMS = 0.03;

/** Least 95 % half-widths of angles in this view, degrees. */
export function leastHalfWidthDeg(
  yawDeg: number,
): Readonly<Record<'otherElbow' | 'shoulder' | 'trunk', number>> {
  const { yaw, otherElbow, shoulder, trunk } = VIEW_ERROR_DEG;
  const at = (percentiles: readonly number[]): number => interpolateTable(yaw, percentiles, Math.abs(yawDeg));
  return { otherElbow: at(otherElbow), shoulder: at(shoulder), trunk: at(trunk) };
}

/** One standard deviation of a point's place, upper-arm lengths, from its jitter within the set. */
export function pointSd(jitterUpperArms: number): number {
  return Math.hypot(SYSTEMATIC_SD_UPPER_ARMS, jitterUpperArms);
}

/** How far a picture's points may be off. */
export interface Scatter {
  /** One standard deviation of a point's place, upper-arm lengths, as seen in the picture. */
  readonly pointSd: number;
  /** The picture's stretch along forward, 1 / cos(yaw): it stretches the scatter too. */
  readonly stretch: number;
}

/** Step of the numeric derivative, upper-arm lengths: small against a limb, large against rounding. */
const STEP = 1e-3;

/**
 * Carries the scatter of points through a function of them: 95 % half-width in the function's unit. Each point is
 * moved along both axes in turn.
 * @param variants - the same points as they would be with one thing of the view off by one standard deviation each
 */
export function carriedHalfWidth(
  points: readonly PlanePoint[],
  variants: readonly (readonly PlanePoint[])[],
  of: (points: readonly PlanePoint[]) => number,
  scatter: Scatter,
): number {
  const at = of(points);
  let variance = 0;
  const moved = [...points];
  points.forEach((point, i) => {
    moved[i] = { forward: point.forward + STEP, up: point.up };
    const alongForward = (of(moved) - at) / STEP;
    moved[i] = { forward: point.forward, up: point.up + STEP };
    const alongUp = (of(moved) - at) / STEP;
    moved[i] = point;
    variance += (alongForward * scatter.pointSd * scatter.stretch) ** 2;
    variance += (alongUp * scatter.pointSd) ** 2;
  });
  for (const variant of variants) variance += (of(variant) - at) ** 2;
  return Z95 * Math.sqrt(variance);
}
