import type { Bar } from './performance.ts';
import type { Vec3 } from './vector.ts';

/** A straight rod with rounded ends; what equipment looks like to a line of sight. */
export interface Rod {
  readonly from: Vec3;
  readonly to: Vec3;
  readonly radiusM: number;
}

/** Upright posts at both ends of the bar, a little ahead of it; hooks at their tops hold the bar. */
export function barSupports(bar: Bar): { readonly posts: readonly Rod[]; readonly hooks: readonly Rod[] } {
  const [x, y] = bar.centre;
  const ahead = x + 0.075;
  const ends = [-1, 1].map((side) => bar.centre[2] + side * (bar.halfLengthM - 0.06));
  return {
    posts: ends.map((z) => ({ from: [ahead, 0, z], to: [ahead, y + 0.05, z], radiusM: 0.02 })),
    hooks: ends.map((z) => ({ from: [ahead, y - 0.025, z], to: [x - 0.02, y - 0.025, z], radiusM: 0.012 })),
  };
}

export function barRod(bar: Bar): Rod {
  const [x, y, z] = bar.centre;
  return { from: [x, y, z - bar.halfLengthM], to: [x, y, z + bar.halfLengthM], radiusM: bar.radiusM };
}
