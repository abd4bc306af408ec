import type { FrameSource, SourceEnd, SourcePicture } from './frame-source.ts';
import { isDue, isToBeMeasured } from './picture-rate.ts';
import type { PoseEstimator } from './pose-estimator.ts';
import type { PoseFrame } from './pose-frame.ts';
import { poseFollower, type PoseFollower } from './pose-follower.ts';
import type {
  EstimatorName,
  LoadProgress,
  PoseModel,
  PoseService,
  RunOptions,
  SeenPicture,
} from './pose-service.ts';

/** What a service on the calling thread is made of. */
export interface PagePoseParts {
  /** The sizes of network that can be had; asked for another one, the first of them computes. */
  readonly offered: readonly [PoseModel, ...PoseModel[]];
  /** Loads an estimator with a network of an offered size. */
  readonly createEstimator: (
    model: PoseModel,
    onProgress: (progress: LoadProgress) => void,
  ) => Promise<PoseEstimator>;
  /** A clock that only rises, milliseconds. */
  readonly nowMs: () => number;
}

/**
 * Finds landmarks on the calling thread, picture by picture as a source hands them on. What is measured of a clip does
 * not depend on the machine's speed. Rejects with an EstimatorError.
 */
export async function pagePoseService(
  parts: PagePoseParts,
  model: EstimatorName,
  onProgress: (progress: LoadProgress) => void,
): Promise<PoseService> {
  return new PagePoseService(parts, await parts.createEstimator(offeredOf(parts, model), onProgress));
}

function offeredOf({ offered }: PagePoseParts, model: EstimatorName): PoseModel {
  return offered.find((size) => size === model) ?? offered[0];
}

class PagePoseService implements PoseService {
  readonly backend = 'library';
  readonly #parts: PagePoseParts;
  #estimator: PoseEstimator;
  #next: PoseEstimator | null = null;
  #liveStepSeconds = 0;
  #isRunning = false;

  constructor(parts: PagePoseParts, estimator: PoseEstimator) {
    this.#parts = parts;
    this.#estimator = estimator;
  }

  get identity(): PoseService['identity'] {
    return (this.#next ?? this.#estimator).identity;
  }

  async run(source: FrameSource, options: RunOptions, take: (seen: SeenPicture) => void): Promise<SourceEnd> {
    this.#liveStepSeconds = options.liveStepSeconds;
    this.#isRunning = true;
    let follower = this.#follower(options);
    let lastMeasuredSeconds: number | null = null;
    try {
      return await source.run(async (picture) => {
        if (source.durationSeconds !== null)
          options.onProgress?.(Math.min(1, Math.max(0, picture.timeSeconds / source.durationSeconds)));
        if (!this.#isWanted(source, picture.timeSeconds, lastMeasuredSeconds, options)) return;
        lastMeasuredSeconds = picture.timeSeconds;
        if (this.#takeNext()) follower = this.#follower(options);
        take(await this.#look(follower, picture));
      });
    } finally {
      this.#isRunning = false;
    }
  }

  pace(liveStepSeconds: number): void {
    this.#liveStepSeconds = liveStepSeconds;
  }

  async change(model: EstimatorName, onProgress: (progress: LoadProgress) => void): Promise<void> {
    const offered = offeredOf(this.#parts, model);
    if (this.identity.model === `blazepose-${offered}`) return;
    const next = await this.#parts.createEstimator(offered, onProgress);
    this.#next?.dispose();
    this.#next = next;
    // In a run the old one may be at work: it is put away between two pictures.
    if (!this.#isRunning) this.#takeNext();
  }

  dispose(): void {
    this.#next?.dispose();
    this.#estimator.dispose();
  }

  #takeNext(): boolean {
    if (this.#next === null) return false;
    this.#estimator.dispose();
    this.#estimator = this.#next;
    this.#next = null;
    return true;
  }

  #follower({ side }: RunOptions): PoseFollower {
    return poseFollower(this.#estimator, side);
  }

  #isWanted(
    { feed }: FrameSource,
    timeSeconds: number,
    last: number | null,
    { clipRateHz }: RunOptions,
  ): boolean {
    return feed.kind === 'clip'
      ? isToBeMeasured(timeSeconds, last, clipRateHz)
      : isDue(timeSeconds, last, this.#liveStepSeconds);
  }

  async #look(follower: PoseFollower, picture: SourcePicture): Promise<SeenPicture> {
    const startMs = this.#parts.nowMs();
    const isTileOff = picture.isTileOff === true;
    const frame = isTileOff ? nobodyIn(picture) : await follower.follow(picture);
    const workMs = this.#parts.nowMs() - startMs;
    // The library tells nothing of its insides, and a picture on the page not when it was captured.
    return {
      frame,
      picture: picture.picture,
      timing: { workMs, networkMs: null, latencyMs: null, dropped: null },
      isTileOff,
    };
  }
}

function nobodyIn({ timeSeconds, widthPx, heightPx }: SourcePicture): PoseFrame {
  return { timeSeconds, widthPx, heightPx, pose: null, people: null, brightness: null };
}
