/** Degrees of one radian. */
const DEG_PER_RAD = 180 / Math.PI;

/** Radians to degrees. */
export function toDegrees(rad: number): number {
  return rad * DEG_PER_RAD;
}

/** Degrees to radians. */
export function toRadians(deg: number): number {
  return deg / DEG_PER_RAD;
}

/**
 * Angle between two plane vectors, degrees, 0 to 180. By atan2 of cross and dot, which stays exact near 0 and 180
 * where the arc cosine loses half its digits. A vector of no length gives 0, never NaN.
 */
export function angleBetweenDeg(ax: number, ay: number, bx: number, by: number): number {
  return toDegrees(Math.atan2(Math.abs(ax * by - ay * bx), ax * bx + ay * by));
}

/** Turn from vector a to vector b, degrees, -180 to 180, positive from the first axis towards the second. */
export function signedAngleDeg(ax: number, ay: number, bx: number, by: number): number {
  return toDegrees(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
}
