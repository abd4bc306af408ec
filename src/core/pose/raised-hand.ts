import type { Side } from './landmark.ts';
import type { PoseFrame } from './pose-frame.ts';
import { isSeen } from './body-checks.ts';
import { sidedPose } from './sided-pose.ts';

/** Whether the hand of the other, free arm is over the head: its wrist higher than the nose, its elbow than its shoulder. */
export function isFreeHandRaised({ pose, widthPx }: PoseFrame, treatedSide: Side): boolean {
  if (pose === null) return false;
  const { other, nose } = sidedPose(pose, treatedSide, widthPx);
  const { wrist, elbow, shoulder } = other;
  if (![wrist, elbow, shoulder, nose].every(isSeen)) return false;
  return wrist.up > nose.up && elbow.up > shoulder.up;
}
