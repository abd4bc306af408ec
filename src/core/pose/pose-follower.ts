import type { SourcePicture } from './frame-source.ts';
import { FRESH_GATE, type GateState, stepGate } from './gate.ts';
import type { Side } from './landmark.ts';
import type { Picture, PoseEstimator } from './pose-estimator.ts';
import type { PoseFrame } from './pose-frame.ts';

/** Follows one person through the pictures of one source. */
export interface PoseFollower<P = Picture> {
  /** What is seen in the next picture. Rejects with an EstimatorError. */
  follow(picture: SourcePicture<P>): Promise<PoseFrame>;
}

/**
 * A follower that searches afresh at the source's start, and again in the very picture in which the gate finds that
 * tracking went stale: what is kept is what the new search gave. Live and from a clip alike.
 */
export function poseFollower<P = Picture>(estimator: PoseEstimator<P>, side: Side): PoseFollower<P> {
  let gate: GateState | null = null;

  const look = async (from: SourcePicture<P>): Promise<PoseFrame> => {
    const { widthPx, heightPx, timeSeconds, brightness } = from;
    const { pose, people } = await estimator.estimate(from.picture, timeSeconds);
    return { timeSeconds, widthPx, heightPx, pose, people, brightness };
  };

  return {
    async follow(picture) {
      if (gate === null) await estimator.reset();
      const before = gate ?? FRESH_GATE;
      const frame = await look(picture);
      const first = stepGate(before, frame, side);
      gate = first.state;
      if (!first.gated.resetTracker) return frame;
      await estimator.reset();
      const again = await look(picture);
      const second = stepGate(before, again, side);
      // The pause between two searches counts from this one, whatever the gate says of what it gave.
      gate = { ...second.state, lastResetSeconds: frame.timeSeconds };
      return again;
    },
  };
}
