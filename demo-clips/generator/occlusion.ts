import { sideSign, SIDES, type Body, type Side } from './body.ts';
import type { Camera } from './camera.ts';
import { isInPicture, projectPoint } from './camera.ts';
import { barRod, barSupports, type Rod } from './equipment-shapes.ts';
import type { Equipment } from './performance.ts';
import type { Skeleton } from './skeleton.ts';
import { add, combine, distance, dot, mix, scale, subtract, type Vec3 } from './vector.ts';

export type ArmJoint = 'Shoulder' | 'Elbow' | 'Wrist';

/** True when an arm joint, or the middle of the grip, lies in the picture and neither the body nor the equipment stands before its centre. */
export function isJointVisible(
  camera: Camera,
  body: Body,
  skeleton: Skeleton,
  equipment: Equipment,
  side: Side,
  joint: ArmJoint | 'Grip',
): boolean {
  const centre = skeleton.joints[`${side}${joint}`];
  if (!isInPicture(camera, projectPoint(camera, centre))) return false;
  const obstacles = [...equipmentRods(equipment), ...bodyRods(body, skeleton, side)];
  // A rod that holds the joint itself does not hide it.
  return !obstacles.some(
    (rod) =>
      distanceToRod(centre, rod) > rod.radiusM && sightDistance(camera.position, centre, rod) < rod.radiusM,
  );
}

function equipmentRods({ bar }: Equipment): Rod[] {
  if (bar === undefined) return [];
  const { posts, hooks } = barSupports(bar);
  return [...posts, ...hooks, barRod(bar)];
}

/** Trunk, head, the other arm and the legs as rods; the arm in question is left out. */
function bodyRods(body: Body, { joints, frames }: Skeleton, side: Side): Rod[] {
  const h = body.statureM;
  const { girth } = body.looks;
  const rods: Rod[] = [{ from: frames.head.origin, to: joints.midShoulder, radiusM: 0.045 * h }];
  for (const other of SIDES) {
    // Two rods side by side give the trunk its breadth.
    const aside = scale(frames.trunk.z, sideSign(other) * 0.03 * h);
    const inside = combine([1, joints.midShoulder], [-0.02 * h, frames.trunk.y]);
    rods.push({ from: add(joints.midHip, aside), to: add(inside, aside), radiusM: 0.055 * h * girth });
    rods.push({ from: joints[`${other}Hip`], to: joints[`${other}Knee`], radiusM: 0.042 * h * girth });
    if (other === side) continue;
    rods.push({ from: joints[`${other}Shoulder`], to: joints[`${other}Elbow`], radiusM: 0.025 * h * girth });
    rods.push({ from: joints[`${other}Elbow`], to: joints[`${other}Grip`], radiusM: 0.02 * h * girth });
  }
  return rods;
}

function distanceToRod(point: Vec3, { from, to }: Rod): number {
  const axis = subtract(to, from);
  const share = Math.min(1, Math.max(0, dot(subtract(point, from), axis) / dot(axis, axis)));
  return distance(point, mix(from, to, share));
}

/** Least distance between a line of sight and a rod's axis (closest points of two segments). */
function sightDistance(eye: Vec3, target: Vec3, { from, to }: Rod): number {
  const [sight, axis, between] = [subtract(target, eye), subtract(to, from), subtract(eye, from)];
  const [a, b, e] = [dot(sight, sight), dot(sight, axis), dot(axis, axis)];
  const [c, f] = [dot(sight, between), dot(axis, between)];
  const clamp = (value: number) => Math.min(1, Math.max(0, value));
  const denominator = a * e - b * b;
  let s = denominator > 1e-12 ? clamp((b * f - c * e) / denominator) : 0;
  const t = clamp((b * s + f) / e);
  s = clamp((b * t - c) / a);
  return distance(mix(eye, target, s), mix(from, to, t));
}
