import { GATE_LIMITS } from './gate-limits.ts';
import type { PoseFrame } from './pose-frame.ts';
import { distance, trunkOf, type SidedPoint, type SidedPose } from './sided-pose.ts';

/** True when the network believes that it sees the point. */
export function isSeen(point: SidedPoint): boolean {
  return point.visibility >= GATE_LIMITS.seenVisibility;
}

/** True when the point lies in the picture. */
export function isInside(point: SidedPoint, frame: PoseFrame): boolean {
  const marginX = GATE_LIMITS.edgeMargin * frame.widthPx;
  const marginY = GATE_LIMITS.edgeMargin * frame.heightPx;
  const across = point.forward >= -marginX && point.forward <= frame.widthPx + marginX;
  return across && -point.up >= -marginY && -point.up <= frame.heightPx + marginY;
}

/** Why the treated arm cannot be measured in this picture, or null. */
export function armProblem(
  pose: SidedPose,
  frame: PoseFrame,
): 'arm-not-seen' | 'outside-picture' | 'too-small' | null {
  const { shoulder, elbow, wrist } = pose.treated;
  const arm = [shoulder, elbow, wrist];
  if (!arm.every((point) => isInside(point, frame))) return 'outside-picture';
  if (!arm.every(isSeen)) return 'arm-not-seen';
  const sizePx = Math.max(
    distance(shoulder, elbow),
    distance(elbow, wrist),
    GATE_LIMITS.upperArmOverTrunk * trunkOf(pose).length,
  );
  return sizePx < GATE_LIMITS.leastUpperArmPx ? 'too-small' : null;
}

/**
 * True when a seen landmark of the treated side moved farther between two pictures than a person can move it.
 * whole: the trunk went too, as when the tracker took up another person.
 */
export function jumpBetween(
  before: SidedPose,
  after: SidedPose,
  stepSeconds: number,
): { jumped: boolean; whole: boolean } {
  const trunk = Math.max(1, trunkOf(before).length, trunkOf(after).length);
  const jumps = (landmark: keyof typeof GATE_LIMITS.jumpSpeed): boolean => {
    const [from, to] = [before.treated[landmark], after.treated[landmark]];
    if (!isSeen(from) || !isSeen(to)) return false;
    const allowed = GATE_LIMITS.jumpFloor + GATE_LIMITS.jumpSpeed[landmark] * stepSeconds;
    return distance(from, to) > allowed * trunk;
  };
  const shoulder = jumps('shoulder');
  const hip = jumps('hip');
  return { jumped: shoulder || hip || jumps('elbow') || jumps('wrist'), whole: shoulder && hip };
}

/** Length of a segment with the picture's horizontal stretched by 1 / cos(yaw), pixels. */
function stretchedLength(a: SidedPoint, b: SidedPoint, cosYaw: number): number {
  return Math.hypot((a.forward - b.forward) / cosYaw, a.up - b.up);
}

/** Trunk length with the picture's horizontal stretched by 1 / cos(yaw), pixels. */
export function stretchedTrunk(pose: SidedPose, cosYaw: number): number {
  const trunk = trunkOf(pose);
  return Math.hypot(trunk.forward / cosYaw, trunk.up);
}

/** True when the treated side's trunk is seen and lies in the picture: its length can be judged by. */
export function isTrunkShown(pose: SidedPose, frame: PoseFrame): boolean {
  const { shoulder, hip } = pose.treated;
  return [shoulder, hip].every((point) => isSeen(point) && isInside(point, frame));
}

/** True when a seen segment is longer against the trunk than any body and any projection allow: stale tracking. */
export function hasImpossibleLengths(pose: SidedPose, cosYaw: number): boolean {
  const { shoulder, elbow, wrist, hip, knee } = pose.treated;
  const trunk = Math.max(1, stretchedTrunk(pose, cosYaw));
  const tooLong = (a: SidedPoint, b: SidedPoint, longest: number): boolean =>
    isSeen(a) && isSeen(b) && stretchedLength(a, b, cosYaw) > longest * trunk;
  const { upperArm, forearm, thigh } = GATE_LIMITS.longestOverTrunk;
  return tooLong(shoulder, elbow, upperArm) || tooLong(elbow, wrist, forearm) || tooLong(hip, knee, thigh);
}
