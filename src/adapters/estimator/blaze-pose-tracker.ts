import type { PoseDetector } from '@tensorflow-models/pose-detection';
import type { Picture } from '../../core/pose/pose-estimator.ts';
import type { Pose } from '../../core/pose/pose-frame.ts';

/** Blank pictures until the tracker lets go; after that many it is made anew, which takes seconds. */
const MOST_BLANKS = 6;

/** Step of the graph's clock where the pictures' own does not go on: at a new source and over blank pictures. */
const GRAPH_STEP_MS = 33;

/** The library's tracker, with a cheap way to forget the person. */
export interface PoseTracker {
  track(picture: Picture, timeSeconds: number): Promise<Pose | null>;
  /** Afterwards the next picture is searched as if it were the first. */
  forget(): Promise<void>;
  dispose(): void;
}

/** Wraps a detector made with smoothing off. */
export function poseTracker(detector: PoseDetector): PoseTracker {
  // The graph wants strictly rising times. Even without smoothing it uses them, to hold its region steady.
  let graphTimeMs = 0;
  let aheadMs = 0;
  let size = { width: 64, height: 64 };
  let isFollowing = false;

  const moveTo = (timeSeconds: number): void => {
    // Whole milliseconds: the same pictures give the same steps, and so the same landmarks, wherever the clock stands.
    const ownMs = Math.round(timeSeconds * 1000);
    if (ownMs + aheadMs > graphTimeMs) graphTimeMs = ownMs + aheadMs;
    else {
      graphTimeMs += GRAPH_STEP_MS;
      aheadMs = graphTimeMs - ownMs;
    }
  };

  const track = async (picture: Picture): Promise<Pose | null> => {
    // The types leave out OffscreenCanvas, which texImage2D takes like any canvas.
    const image = picture as HTMLCanvasElement;
    const [found] = await detector.estimatePoses(image, {}, graphTimeMs);
    isFollowing = found !== undefined;
    return found === undefined ? null : toPose(found);
  };

  return {
    async track(picture, timeSeconds) {
      moveTo(timeSeconds);
      if (!(picture instanceof HTMLVideoElement)) size = { width: picture.width, height: picture.height };
      return track(picture);
    },
    /**
     * The graph's reset() rebuilds everything and costs seconds. Its only memory, with smoothing off, is the region of
     * the last person and what holds it steady: a picture without anybody ends both.
     */
    async forget() {
      if (!isFollowing) return;
      const blank = new OffscreenCanvas(size.width, size.height);
      blank.getContext('2d')?.fillRect(0, 0, size.width, size.height);
      for (let count = 0; count < MOST_BLANKS; count += 1) {
        graphTimeMs += GRAPH_STEP_MS;
        if ((await track(blank)) === null) {
          aheadMs = 0;
          return;
        }
      }
      detector.reset();
      isFollowing = false;
    },
    dispose: () => detector.dispose(),
  };
}

function toPose(found: Awaited<ReturnType<PoseDetector['estimatePoses']>>[number]): Pose {
  return {
    image: found.keypoints.map(({ x, y, score }) => ({ x, y, visibility: score ?? 0 })),
    world: (found.keypoints3D ?? []).map(({ x, y, z }) => ({ x, y, z: z ?? 0 })),
  };
}
