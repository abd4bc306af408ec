import type { Vec3 } from '../vector.ts';

/**
 * Signed distance fields: negative inside, metres (or less than metres where a part is widened, never more).
 * Round cone and polynomial smooth union after I. Quilez, "Distance functions" and "Smooth minimum" (iquilezles.org).
 */
export type Field = (x: number, y: number, z: number) => number;

/** Two balls and their hull: the shape of most limb parts. */
export function roundCone(a: Vec3, b: Vec3, radiusA: number, radiusB: number): Field {
  const [ax, ay, az] = a;
  const [bx, by, bz] = [b[0] - ax, b[1] - ay, b[2] - az];
  const l2 = bx * bx + by * by + bz * bz;
  const rr = radiusA - radiusB;
  const a2 = l2 - rr * rr;
  const il2 = 1 / l2;
  if (a2 <= 0) return rr > 0 ? ball(a, radiusA) : ball(b, radiusB);
  const srr = Math.sign(rr) * rr * rr;
  return (x, y, z) => {
    const [px, py, pz] = [x - ax, y - ay, z - az];
    const along = px * bx + py * by + pz * bz;
    const beyond = along - l2;
    const [qx, qy, qz] = [px * l2 - bx * along, py * l2 - by * along, pz * l2 - bz * along];
    const x2 = qx * qx + qy * qy + qz * qz;
    const y2 = along * along * l2;
    const z2 = beyond * beyond * l2;
    const k = srr * x2;
    if (Math.sign(beyond) * a2 * z2 > k) return Math.sqrt(x2 + z2) * il2 - radiusB;
    if (Math.sign(along) * a2 * y2 < k) return Math.sqrt(x2 + y2) * il2 - radiusA;
    return (Math.sqrt(x2 * a2 * il2) + along * rr) * il2 - radiusA;
  };
}

export function ball(centre: Vec3, radius: number): Field {
  return (x, y, z) => Math.hypot(x - centre[0], y - centre[1], z - centre[2]) - radius;
}

/** Ellipsoid along the axes, first-order distance. */
export function ellipsoid(centre: Vec3, radii: Vec3): Field {
  const [rx, ry, rz] = radii;
  const smallest = Math.min(rx, ry, rz);
  return (x, y, z) => {
    const [px, py, pz] = [(x - centre[0]) / rx, (y - centre[1]) / ry, (z - centre[2]) / rz];
    const k = Math.sqrt(px * px + py * py + pz * pz);
    return (k - 1) * smallest;
  };
}

/** The field made wider along z: a flat trunk from round cones. */
export function widened(field: Field, factor: number): Field {
  return (x, y, z) => field(x, y, z / factor);
}

export function smoothUnion(softnessM: number, fields: readonly Field[]): Field {
  return (x, y, z) => {
    let nearest = Infinity;
    for (const field of fields) {
      const d = field(x, y, z);
      const h = Math.max(softnessM - Math.abs(nearest - d), 0);
      nearest = Math.min(nearest, d) - (h === 0 ? 0 : (h * h) / (4 * softnessM));
    }
    return nearest;
  };
}

/** What lies behind the plane through a point, on the side its direction points away from. */
export function cut(field: Field, point: Vec3, direction: Vec3): Field {
  const offset = point[0] * direction[0] + point[1] * direction[1] + point[2] * direction[2];
  return (x, y, z) =>
    Math.max(field(x, y, z), x * direction[0] + y * direction[1] + z * direction[2] - offset);
}

/** Box around points with a margin, for the mesher. */
export interface Bounds {
  readonly low: Vec3;
  readonly high: Vec3;
}

export function boundsAround(points: readonly Vec3[], marginM: number): Bounds {
  const along = (axis: 0 | 1 | 2) => points.map((p) => p[axis]);
  const low = (axis: 0 | 1 | 2) => Math.min(...along(axis)) - marginM;
  const high = (axis: 0 | 1 | 2) => Math.max(...along(axis)) + marginM;
  return { low: [low(0), low(1), low(2)], high: [high(0), high(1), high(2)] };
}
