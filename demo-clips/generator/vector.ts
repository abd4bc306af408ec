/** A point or direction in metres (or without unit where it is a direction): forward x, up y, to the right z. */
export type Vec3 = readonly [number, number, number];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const subtract = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, k: number): Vec3 => [a[0] * k, a[1] * k, a[2] * k];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const length = (a: Vec3): number => Math.hypot(a[0], a[1], a[2]);
export const distance = (a: Vec3, b: Vec3): number => length(subtract(a, b));
export const normalise = (a: Vec3): Vec3 => scale(a, 1 / length(a));
export const mix = (a: Vec3, b: Vec3, share: number): Vec3 => add(scale(a, 1 - share), scale(b, share));

/** Sum of vectors, each times its factor. */
export function combine(...terms: readonly (readonly [number, Vec3])[]): Vec3 {
  let sum: Vec3 = [0, 0, 0];
  for (const [factor, vector] of terms) sum = add(sum, scale(vector, factor));
  return sum;
}

/** Angle between two directions in degrees, 0 to 180, well conditioned at both ends. */
export function angleBetweenDeg(a: Vec3, b: Vec3): number {
  return toDegrees(Math.atan2(length(cross(a, b)), dot(a, b)));
}

export const toRadians = (angleDeg: number): number => (angleDeg * Math.PI) / 180;
export const toDegrees = (angleRad: number): number => (angleRad * 180) / Math.PI;

/** A place and three perpendicular unit directions: forward x, up y, right z of the part it belongs to. */
export interface Frame {
  readonly origin: Vec3;
  readonly x: Vec3;
  readonly y: Vec3;
  readonly z: Vec3;
}

/** World coordinates of a point given in a frame. */
export function fromFrame(frame: Frame, local: Vec3): Vec3 {
  return add(frame.origin, combine([local[0], frame.x], [local[1], frame.y], [local[2], frame.z]));
}

/** Coordinates in a frame of a point given in the world. */
export function toFrame(frame: Frame, world: Vec3): Vec3 {
  const offset = subtract(world, frame.origin);
  return [dot(offset, frame.x), dot(offset, frame.y), dot(offset, frame.z)];
}
