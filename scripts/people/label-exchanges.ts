import { otherSide, sidedIndex, type Side, type SidedLandmark } from '../../src/core/pose/landmark.ts';
import type { Pose, PoseFrame } from '../../src/core/pose/pose-frame.ts';
import { distance, type SidedPose } from '../../src/core/pose/sided-pose.ts';

/** Places of both sides' landmarks in a picture, pixels; null where nobody is believed. */
interface Sides {
  readonly timeSeconds: number;
  readonly trunkPx: number;
  readonly place: (
    side: 'one' | 'other',
    landmark: SidedLandmark,
  ) => { readonly x: number; readonly y: number };
}

/** Labels that change together. */
const GROUPS = [
  ['shoulder', 'elbow', 'wrist', 'hip', 'knee'],
  ['elbow', 'wrist'],
] as const satisfies readonly (readonly SidedLandmark[])[];
/** Pictures further apart are not compared, seconds. */
const LONGEST_STEP_SECONDS = 0.5;
/**
 * An exchange: keeping the labels moves the sides by more than this on the average, trunk lengths, and exchanging them by
 * less than half of that. Sides that cover each other in the picture then keep their names.
 */
const LEAST_MOVE_TRUNKS = 0.15;

/** How often labels change sides from one picture to the next, by continuity alone: body or arm. */
export function labelExchanges(pictures: readonly (Sides | null)[]): number {
  let count = 0;
  let before: Sides | null = null;
  for (const now of pictures) {
    if (now === null) continue;
    if (before !== null && now.timeSeconds - before.timeSeconds <= LONGEST_STEP_SECONDS) {
      const last = before;
      if (GROUPS.some((group) => isExchange(last, now, group))) count += 1;
    }
    before = now;
  }
  return count;
}

function isExchange(before: Sides, now: Sides, group: readonly SidedLandmark[]): boolean {
  const move = (turned: boolean): number =>
    group.reduce((sum, landmark) => {
      const from = [before.place('one', landmark), before.place('other', landmark)] as const;
      const to = [now.place('one', landmark), now.place('other', landmark)] as const;
      const [a, b] = turned ? [to[1], to[0]] : to;
      return (
        sum + Math.hypot(a.x - from[0].x, a.y - from[0].y) + Math.hypot(b.x - from[1].x, b.y - from[1].y)
      );
    }, 0) /
    (2 * group.length);
  const kept = move(false);
  return kept > LEAST_MOVE_TRUNKS * before.trunkPx && move(true) < kept / 2;
}

/** The labels as the network gave them. */
export function asFound({ pose, timeSeconds }: PoseFrame): Sides | null {
  if (pose === null) return null;
  const at = (side: Side, landmark: SidedLandmark) => placeIn(pose, side, landmark);
  const middle = (landmark: SidedLandmark) => {
    const [a, b] = [at('left', landmark), at('right', landmark)];
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  };
  const [shoulder, hip] = [middle('shoulder'), middle('hip')];
  return {
    timeSeconds,
    trunkPx: Math.hypot(shoulder.x - hip.x, shoulder.y - hip.y),
    place: (which, landmark) => at(which === 'one' ? 'left' : otherSide('left'), landmark),
  };
}

function placeIn(pose: Pose, side: Side, landmark: SidedLandmark) {
  const point = pose.image[sidedIndex(side, landmark)];
  if (point === undefined) throw new Error(`label-exchanges: ${side} ${landmark} is missing.`);
  return point;
}

/** The labels as the gate has put them right; null where it believes nothing of the body. */
export function asSettled(pose: SidedPose | null, timeSeconds: number): Sides | null {
  if (pose === null) return null;
  const { treated, other } = pose;
  const middle = {
    shoulder: {
      forward: (treated.shoulder.forward + other.shoulder.forward) / 2,
      up: (treated.shoulder.up + other.shoulder.up) / 2,
    },
    hip: { forward: (treated.hip.forward + other.hip.forward) / 2, up: (treated.hip.up + other.hip.up) / 2 },
  };
  return {
    timeSeconds,
    trunkPx: distance(middle.shoulder, middle.hip),
    place: (which, landmark) => {
      const { forward, up } = (which === 'one' ? treated : other)[landmark];
      return { x: forward, y: up };
    },
  };
}
