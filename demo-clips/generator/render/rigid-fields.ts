import type { Body } from '../body.ts';
import type { Vec3 } from '../vector.ts';
import {
  ball,
  boundsAround,
  cut,
  ellipsoid,
  roundCone,
  smoothUnion,
  widened,
  type Bounds,
  type Field,
} from './fields.ts';

/** A part that keeps its shape: meshed once, in its own frame. */
export interface RigidShape {
  readonly field: Field;
  readonly bounds: Bounds;
  readonly cellM: number;
}

/** Skull, jaw, nose and ears, around the middle of the head. */
export function headShape(h: number): RigidShape {
  const at = (x: number, y: number, z: number): Vec3 => [x * h, y * h, z * h];
  const field = smoothUnion(0.012 * h, [
    ellipsoid(at(-0.006, 0.014, 0), at(0.056, 0.05, 0.0435)),
    widened(roundCone(at(0.016, -0.004, 0), at(0.03, -0.044, 0), 0.036 * h, 0.019 * h), 1.02),
    ball(at(0.043, -0.053, 0), 0.0105 * h),
    roundCone(at(0.048, 0.005, 0), at(0.058, -0.014, 0), 0.0035 * h, 0.0075 * h),
    roundCone(at(0.044, 0.015, 0.014), at(0.044, 0.015, -0.014), 0.0055 * h, 0.0055 * h),
  ]);
  const ears = smoothUnion(0.004 * h, [
    field,
    ellipsoid(at(-0.004, -0.006, 0.044), at(0.011, 0.018, 0.0055)),
    ellipsoid(at(-0.004, -0.006, -0.044), at(0.011, 0.018, 0.0055)),
  ]);
  return {
    field: ears,
    bounds: boundsAround([at(-0.062, -0.066, -0.05), at(0.068, 0.066, 0.05)], 0.009),
    cellM: 0.008,
  };
}

/** Hair as a cap over the skull that leaves the face free; with a knot at the back where the style has one. */
export function hairShape(body: Body): RigidShape | null {
  const h = body.statureM;
  const { hairStyle } = body.looks;
  if (hairStyle === 'shaved') return null;
  const at = (x: number, y: number, z: number): Vec3 => [x * h, y * h, z * h];
  const thick = hairStyle === 'short' ? 0.006 : 0.005;
  const skull = ellipsoid(at(-0.008, 0.015, 0), at(0.056 + thick, 0.05 + thick, 0.0435 + thick));
  const behindFace = cut(skull, at(0.02, 0, 0), [0.83, -0.557, 0]);
  const overNeck = cut(behindFace, at(0, -0.026, 0), [0, -1, 0]);
  const field =
    hairStyle === 'bun' ? smoothUnion(0.01 * h, [overNeck, ball(at(-0.071, 0.03, 0), 0.022 * h)]) : overNeck;
  return {
    field,
    bounds: boundsAround([at(-0.1, -0.04, -0.052), at(0.06, 0.075, 0.052)], 0.008),
    cellM: 0.01155,
  };
}

/** A closed fist around a round handle that lies along z, half way along the hand. */
export function fistShape(h: number): RigidShape {
  const at = (x: number, y: number, z: number): Vec3 => [x * h, y * h, z * h];
  const fingers = [-0.0175, -0.006, 0.0055, 0.017].flatMap((z) => [
    roundCone(at(-0.009, -0.07, z), at(0.013, -0.07, z), 0.0066 * h, 0.006 * h),
    roundCone(at(0.013, -0.07, z), at(0.016, -0.046, z), 0.006 * h, 0.0055 * h),
  ]);
  const field = smoothUnion(0.005 * h, [
    roundCone(at(0, 0.004, 0), at(-0.006, -0.03, 0), 0.0145 * h, 0.015 * h),
    widened(roundCone(at(-0.008, -0.03, 0), at(-0.011, -0.066, 0), 0.0115 * h, 0.009 * h), 2.1),
    ...fingers,
    roundCone(at(-0.004, -0.024, 0.018), at(0.012, -0.042, 0.027), 0.0085 * h, 0.007 * h),
    roundCone(at(0.012, -0.042, 0.027), at(0.02, -0.06, 0.02), 0.007 * h, 0.0055 * h),
  ]);
  return {
    field,
    bounds: boundsAround([at(-0.026, -0.086, -0.032), at(0.03, 0.022, 0.038)], 0.004),
    cellM: 0.0075,
  };
}

/** A closed shoe around the ankle, sole on the floor. */
export function shoeShape(body: Body): RigidShape {
  const h = body.statureM;
  const { foot, ankleHeight } = body.lengths;
  const heel: Vec3 = [-0.17 * foot, -0.022 * h, 0];
  const toe: Vec3 = [0.58 * foot, -0.024 * h, 0];
  const whole = smoothUnion(0.018 * h, [
    widened(roundCone(heel, toe, 0.0205 * h, 0.016 * h), 1.25),
    roundCone([-0.004 * h, 0.004 * h, 0], [0.3 * foot, -0.014 * h, 0], 0.0215 * h, 0.018 * h),
  ]);
  const field = cut(whole, [0, -ankleHeight, 0], [0, -1, 0]);
  const bounds = boundsAround(
    [
      [-0.32 * foot, -ankleHeight, -0.03 * h],
      [0.72 * foot, 0.028 * h, 0.03 * h],
    ],
    0.008,
  );
  return { field, bounds, cellM: 0.0115 };
}
