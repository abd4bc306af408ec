import type { Body, Side } from '../body.ts';
import type { Vec3 } from '../vector.ts';

/** Ankles under the hips, one foot slightly ahead. */
export function standingAnkles(body: Body, x: number, aheadM = 0.03): Record<Side, Vec3> {
  const { ankleHeight, hipHalfWidth } = body.lengths;
  const half = hipHalfWidth + 0.02;
  return { left: [x + aheadM, ankleHeight, -half], right: [x - aheadM, ankleHeight, half] };
}

/** Height of the hip with the knees a little bent. */
export function standingHipHeight(body: Body): number {
  return body.lengths.ankleHeight + 0.985 * (body.lengths.thigh + body.lengths.shank);
}

export const FLAT_FEET: Readonly<Record<Side, number>> = { left: 0, right: 0 };
