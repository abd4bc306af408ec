import { meanBrightness } from '../../core/pose/network/brightness.ts';
import type { PixelReader, PixelSource, TimedEstimator } from '../../core/pose/pose-estimator.ts';
import { poseFollower, type PoseFollower } from '../../core/pose/pose-follower.ts';
import type { PixelPicture } from '../../core/pose/pose-estimator.ts';
import type { LiveFrameMessage, LiveOptions } from './messages.ts';

/** Pictures nearer to each other than this are one picture given twice, seconds. */
const LEAST_STEP_SECONDS = 0.001;

/** Cameras are not punctual: a picture that comes this much of the wished step too early is still taken. */
const EARLY_SHARE = 0.2;

/** How often brightness is looked at, seconds. */
const BRIGHTNESS_EVERY_SECONDS = 1;

/** What was measured in a picture of a live run. */
export type LiveMeasured = Omit<LiveFrameMessage, 'kind' | 'run' | 'capturedAtMs'>;

/** Measures the pictures of one live source, in order. Runs in the pose worker. */
export class LiveMeasuring {
  readonly #reader: PixelReader;
  readonly #options: LiveOptions;
  #stepSeconds: number;
  #estimator: TimedEstimator;
  #follower: PoseFollower<PixelPicture>;
  #lastSeconds = Number.NEGATIVE_INFINITY;
  #nextBrightnessSeconds = Number.NEGATIVE_INFINITY;

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
    const step = timeSeconds - this.#lastSeconds;
    // Time must rise: a picture given twice, or a clock set back, is passed over.
    if (step < Math.max(LEAST_STEP_SECONDS, this.#stepSeconds * (1 - EARLY_SHARE))) return null;
    const { rateHz } = this.#options;
    const dropped =
      rateHz === null || !Number.isFinite(step) ? 0 : Math.max(0, Math.round(step * rateHz) - 1);
    this.#lastSeconds = timeSeconds;
    const from = performance.now();
    const pixels = await this.#reader.read(picture);
    const { widthPx, heightPx } = pixels;
    const brightness = this.#isBrightnessDue(timeSeconds) ? meanBrightness(pixels) : null;
    const frame = await this.#follower.follow({ picture: pixels, widthPx, heightPx, timeSeconds, brightness });
    return { frame, workMs: performance.now() - from, networkMs: this.#estimator.networkMs, dropped };
  }

  #isBrightnessDue(timeSeconds: number): boolean {
    if (timeSeconds < this.#nextBrightnessSeconds) return false;
    this.#nextBrightnessSeconds = timeSeconds + BRIGHTNESS_EVERY_SECONDS;
    return true;
  }
}
