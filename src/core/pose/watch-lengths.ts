import { toRadians } from '../math/angle.ts';
import { runningShare } from '../signal/running-mean.ts';
import { hasImpossibleLengths, isTrunkShown, stretchedTrunk } from './body-checks.ts';
import { GATE_LIMITS as LIMITS } from './gate-limits.ts';
import type { PoseFrame } from './pose-frame.ts';
import type { SidedPose } from './sided-pose.ts';
import { bodyYawDeg } from './viewpoint.ts';

/** What is remembered of the body's lengths. */
export interface LengthState {
  /** Running mean of the unsigned yaw, degrees; null before the first picture. */
  readonly yawDeg: number | null;
  /** Running mean of the trunk's length, pixels; null until one was believed. */
  readonly trunkPx: number | null;
  readonly staleSinceSeconds: number | null;
}

/** Nothing known of the body. */
export const FRESH_LENGTHS: LengthState = { yawDeg: null, trunkPx: null, staleSinceSeconds: null };

/** What the lengths of a picture say. */
export interface WatchedLengths {
  readonly yawDeg: number;
  readonly trunkPx: number;
  /** True when the segments cannot be a body's, or the trunk changed more than moving to and fro explains. */
  readonly isStale: boolean;
  readonly staleSinceSeconds: number | null;
  /** True when a changed length has lasted so long that it is taken as the new one. */
  readonly adopts: boolean;
}

/** Judges the segment lengths of a picture against a body's and against those of late. */
export function watchLengths(
  state: LengthState,
  pose: SidedPose,
  frame: PoseFrame,
  stepSeconds: number,
): WatchedLengths {
  const own = Math.abs(bodyYawDeg(pose) ?? state.yawDeg ?? 0);
  const before = state.yawDeg ?? own;
  const yawDeg = before + runningShare(stepSeconds, LIMITS.yawMeanSeconds) * (own - before);
  const cosYaw = Math.cos(toRadians(Math.min(yawDeg, LIMITS.lengthsYawDeg)));
  const trunkPx = stretchedTrunk(pose, cosYaw);
  const change = state.trunkPx === null ? 0 : Math.abs(Math.log(trunkPx / state.trunkPx));
  // From the front a trunk that leans looks short, and lengths tell nothing.
  const tells = yawDeg < LIMITS.lengthsYawDeg && isTrunkShown(pose, frame);
  const isOff = tells && (change > Math.log(LIMITS.trunkChange) || hasImpossibleLengths(pose, cosYaw));
  const sinceSeconds = isOff ? (state.staleSinceSeconds ?? frame.timeSeconds) : null;
  const adopts = sinceSeconds !== null && frame.timeSeconds - sinceSeconds >= LIMITS.adoptSeconds;
  return {
    yawDeg,
    trunkPx,
    isStale: isOff && !adopts,
    staleSinceSeconds: adopts ? null : sinceSeconds,
    adopts,
  };
}

/** What is remembered after a picture; the trunk's mean takes up believed pictures only. */
export function rememberLengths(
  state: LengthState,
  watched: WatchedLengths,
  isBelieved: boolean,
  stepSeconds: number,
): LengthState {
  const { yawDeg, staleSinceSeconds } = watched;
  if (!isBelieved) return { yawDeg, staleSinceSeconds, trunkPx: state.trunkPx };
  const before = watched.adopts ? watched.trunkPx : (state.trunkPx ?? watched.trunkPx);
  const weight = runningShare(stepSeconds, LIMITS.trunkMeanSeconds);
  return { yawDeg, staleSinceSeconds, trunkPx: before + weight * (watched.trunkPx - before) };
}
