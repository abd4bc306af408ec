import { LEAST_STEP_SECONDS } from '../../core/pose/least-step.ts';
import { BRIGHTNESS_HZ, meanBrightness } from '../../core/pose/network/brightness.ts';
import type { PixelPicture } from '../../core/pose/network/pixel-picture.ts';
import type { PixelReader, PixelSource, TimedEstimator } from '../../core/pose/pose-estimator.ts';
import { isDue, isToBeMeasured } from '../../core/pose/picture-rate.ts';
import { poseFollower, type PoseFollower } from '../../core/pose/pose-follower.ts';
import type { LiveFrameMessage, LiveOptions } from './messages.ts';

/** What was measured in a picture of a live run. */
export type LiveMeasured = Omit<LiveFrameMessage, 'kind' | 'run' | 'capturedAtMs'>;

/** Measures the pictures of one live source, in order. Runs in the pose worker. */
export class LiveMeasuring {
  readonly #reader: PixelReader;
  readonly #options: LiveOptions;
  #stepSeconds: number;
  #estimator: TimedEstimator;
  #follower: PoseFollower<PixelPicture>;
  #lastSeconds: number | null = null;

  constructor(reader: PixelReader, estimator: TimedEstimator, options: LiveOptions) {
    this.#reader = reader;
    this.#options = options;
    this.#stepSeconds = options.stepSeconds;
    this.#estimator = estimator;
    this.#follower = poseFollower(estimator, options.side);
  }

  /** From now on at most one picture in so many seconds is measured. */
  pace(stepSeconds: number): void {
    this.#stepSeconds = stepSeconds;
  }

  /** Goes on with another estimator, which searches the person anew. */
  use(estimator: TimedEstimator): void {
    this.#estimator = estimator;
    this.#follower = poseFollower(estimator, this.#options.side);
  }

  /** Measures a picture of the given time; null when it comes too soon after the one before. The caller closes it. */
  async measure(picture: PixelSource, timeSeconds: number): Promise<LiveMeasured | null> {
    // Time must rise: a picture given twice, or a clock set back, is passed over.
    const last = this.#lastSeconds;
    if (last !== null && timeSeconds < last + LEAST_STEP_SECONDS) return null;
    if (!isDue(timeSeconds, last, this.#stepSeconds)) return null;
    this.#lastSeconds = timeSeconds;
    const dropped = droppedBetween(last, timeSeconds, this.#options.rateHz);
    const from = performance.now();
    const pixels = await this.#reader.read(picture);
    const { widthPx, heightPx } = pixels;
    const brightness = isToBeMeasured(timeSeconds, last, BRIGHTNESS_HZ) ? meanBrightness(pixels) : null;
    const frame = await this.#follower.follow({
      picture: pixels,
      widthPx,
      heightPx,
      timeSeconds,
      brightness,
    });
    return { frame, workMs: performance.now() - from, networkMs: this.#estimator.networkMs, dropped };
  }
}

/** Pictures that a source of the given rate must have had between two; null where that is not known. */
function droppedBetween(last: number | null, now: number, rateHz: number | null): number | null {
  if (last === null || rateHz === null) return null;
  return Math.max(0, Math.round((now - last) * rateHz) - 1);
}
