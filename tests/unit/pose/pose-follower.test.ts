import { describe, expect, it } from 'vitest';
import type { SourcePicture } from '../../../src/core/pose/frame-source.ts';
import type { EstimatorIdentity, PoseEstimator } from '../../../src/core/pose/pose-estimator.ts';
import type { Pose } from '../../../src/core/pose/pose-frame.ts';
import { poseFollower } from '../../../src/core/pose/pose-follower.ts';
import { STANDING, SyntheticNetwork } from '../../helpers/synthetic-body.ts';

const RATE_HZ = 20;

/** A tracker that keeps seeing what it saw when the person was found; forgetting lets it see what is there. */
class StickyTracker implements PoseEstimator {
  readonly identity: EstimatorIdentity = {
    model: 'blazepose-full',
    runtime: 'imitated',
    modelSha256s: ['0'.repeat(64)],
  };
  readonly calls: string[] = [];
  readonly #there: (timeSeconds: number) => Pose;
  readonly #stuck: (timeSeconds: number) => Pose | null;
  #afresh = true;

  constructor(there: (timeSeconds: number) => Pose, stuck: (timeSeconds: number) => Pose | null) {
    this.#there = there;
    this.#stuck = stuck;
  }

  estimate(_picture: unknown, timeSeconds: number) {
    this.calls.push(`estimate ${timeSeconds.toFixed(2)}`);
    const stuck = this.#afresh ? null : this.#stuck(timeSeconds);
    if (stuck === null) return Promise.resolve({ pose: this.#there(timeSeconds), people: 1 });
    return Promise.resolve({ pose: stuck, people: 1 });
  }

  reset() {
    this.calls.push('reset');
    this.#afresh = this.calls.length > 1;
    return Promise.resolve();
  }

  dispose() {
    this.calls.push('dispose');
  }
}

/** The picture itself is never looked at by the imitated tracker. */
function picture(timeSeconds: number): SourcePicture {
  return {
    picture: {} as SourcePicture['picture'],
    widthPx: 640,
    heightPx: 480,
    timeSeconds,
    brightness: 120,
  };
}

describe('following one person through a source', () => {
  const body = new SyntheticNetwork({});
  const standing = body.pose(STANDING);
  /** Impossible lengths: the trunk half as long, as when landmarks stay where a person was. */
  const stale: Pose = {
    ...standing,
    image: standing.image.map((point, index) =>
      index === 23 || index === 24 ? { ...point, y: point.y - 100 } : point,
    ),
  };

  it('searches afresh at the start, and then leaves a tracker that follows well alone', async () => {
    const tracker = new StickyTracker(
      () => standing,
      () => null,
    );
    const follower = poseFollower(tracker, 'left');
    for (let i = 0; i < 40; i += 1) await follower.follow(picture(i / RATE_HZ));
    expect(tracker.calls.filter((call) => call === 'reset')).toHaveLength(1);
    expect(tracker.calls[0]).toBe('reset');
    expect(tracker.calls).toHaveLength(41);
  });

  it('searches afresh in the very picture in which tracking is found stale, and keeps what that gave', async () => {
    const tracker = new StickyTracker(
      () => standing,
      (timeSeconds) => (timeSeconds >= 1 ? stale : standing),
    );
    const follower = poseFollower(tracker, 'left');
    const frames = [];
    for (let i = 0; i < 60; i += 1) frames.push(await follower.follow(picture(i / RATE_HZ)));
    const second = tracker.calls.lastIndexOf('reset');
    expect(second).toBeGreaterThan(0);
    expect(tracker.calls[second - 1]).toBe(tracker.calls[second + 1]);
    expect(frames).toHaveLength(60);
    const staleTimes = frames.filter(({ pose }) => pose === stale).map(({ timeSeconds }) => timeSeconds);
    // Noticed within half a second, and true landmarks from then on.
    expect(Math.max(...staleTimes)).toBeLessThan(1.5);
    expect(frames.at(-1)).toEqual({
      timeSeconds: 59 / RATE_HZ,
      widthPx: 640,
      heightPx: 480,
      pose: standing,
      people: 1,
      brightness: 120,
    });
  });
});
