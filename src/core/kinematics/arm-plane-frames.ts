import { toDegrees } from '../math/angle.ts';
import { ARM_PLANE } from './arm-plane-limits.ts';
import type { ArmRays } from './arm-plane.ts';

/** Flexion as it looks in the picture, degrees: good enough to tell like postures from unlike ones. */
export function apparentFlexionDeg({ shoulder, elbow, wrist }: ArmRays): number {
  const [ax, ay] = [elbow[0] - shoulder[0], elbow[1] - shoulder[1]];
  const [bx, by] = [wrist[0] - elbow[0], wrist[1] - elbow[1]];
  return toDegrees(Math.atan2(Math.abs(ax * by - ay * bx), ax * bx + ay * by));
}

/** Arms to fit, and for how many independent looks they count. */
interface ChosenArms {
  readonly arms: readonly ArmRays[];
  readonly independent: number;
}

/** So many of a list, evenly spread over it, the first and last among them where more than one is taken. */
function evenly<T>(items: readonly T[], most: number): T[] {
  if (items.length <= most) return [...items];
  return Array.from({ length: most }, (_, i) =>
    Math.round((i * (items.length - 1)) / Math.max(1, most - 1)),
  ).flatMap((at) => items[at] ?? []);
}

/** Group of like flexion to which an arm belongs, from 0. */
export function flexionGroup(rays: ArmRays): number {
  return Math.floor(apparentFlexionDeg(rays) / ARM_PLANE.frames.groupDeg);
}

/**
 * Arms spread over the postures of a set: of each group of like flexion the same number at most, evenly over time. A
 * hold of a minute then counts as one posture, and the bends before it as the many they are.
 */
export function chooseArms(all: readonly ArmRays[]): ChosenArms {
  const groups = new Map<number, ArmRays[]>();
  for (const rays of all) {
    const group = flexionGroup(rays);
    const known = groups.get(group);
    if (known) known.push(rays);
    else groups.set(group, [rays]);
  }
  const most = Math.max(1, Math.floor(ARM_PLANE.frames.most / Math.max(1, groups.size)));
  const arms = [...groups.values()].flatMap((group) => evenly(group, most));
  return { arms, independent: Math.min(arms.length, ARM_PLANE.independentPerGroup * groups.size) };
}
