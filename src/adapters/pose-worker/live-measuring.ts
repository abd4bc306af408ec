import { LEAST_STEP_SECONDS } from '../../core/pose/least-step.ts';
import { BRIGHTNESS_HZ, meanBrightness } from '../../core/pose/network/brightness.ts';
import type { PixelPicture } from '../../core/pose/network/pixel-picture.ts';
import { PictureMemory } from '../../core/pose/network/same-picture.ts';
import type { PixelReader, PixelSource, TimedEstimator } from '../../core/pose/pose-estimator.ts';
import { isDue, isToBeMeasured } from '../../core/pose/picture-rate.ts';
import { isTileOf, type PictureTile } from '../../core/pose/picture-tile.ts';
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
  #tile: PictureTile | null;
  readonly #memory = new PictureMemory();

  constructor(reader: PixelReader, estimator: TimedEstimator, options: LiveOptions) {
    this.#reader = reader;
    this.#options = options;
    this.#stepSeconds = options.stepSeconds;
    this.#estimator = estimator;
    this.#follower = poseFollower(estimator, options.side);
    this.#tile = options.tile;
  }

  /** From now on at most one picture in so many seconds is measured. */
  pace(stepSeconds: number): void {
    this.#stepSeconds = stepSeconds;
  }

  /** From now on only this part of each picture is measured, and the person searched anew; null for the whole. */
  frame(tile: PictureTile | null): void {
    this.#tile = tile;
    this.#follower = poseFollower(this.#estimator, this.#options.side);
  }

  /** Goes on with another estimator, which searches the person anew. */
  use(estimator: TimedEstimator): void {
    this.#estimator = estimator;
    this.#follower = poseFollower(estimator, this.#options.side);
  }

  /**
   * Measures a picture of the given time; null when it comes too soon after the one before, or is that one again where
   * repeats are skipped. The caller closes it.
   */
  async measure(picture: PixelSource, timeSeconds: number): Promise<LiveMeasured | null> {
    // Time must rise: a picture given twice, or a clock set back, is passed over.
    const last = this.#lastSeconds;
    if (last !== null && timeSeconds < last + LEAST_STEP_SECONDS) return null;
    if (!isDue(timeSeconds, last, this.#stepSeconds)) return null;
    const tile = this.#tile;
    if (tile !== null && !isTileOf(tile, sizeOf(picture))) return this.#unmeasured(tile, timeSeconds);
    const from = performance.now();
    const pixels = await this.#reader.read(picture, tile);
    if (this.#options.skipsRepeats && this.#memory.isSame(pixels)) return null;
    this.#lastSeconds = timeSeconds;
    const dropped = droppedBetween(last, timeSeconds, this.#options.rateHz);
    const { widthPx, heightPx } = pixels;
    const brightness = isToBeMeasured(timeSeconds, last, BRIGHTNESS_HZ) ? meanBrightness(pixels) : null;
    const frame = await this.#follower.follow({
      picture: pixels,
      widthPx,
      heightPx,
      timeSeconds,
      brightness,
    });
    const { networkMs } = this.#estimator;
    return { frame, workMs: performance.now() - from, networkMs, dropped, isTileOff: false };
  }

  /** A picture in which the tile may hold somebody else: it is told, and nothing of it is measured. */
  #unmeasured({ widthPx, heightPx }: PictureTile, timeSeconds: number): LiveMeasured {
    this.#lastSeconds = timeSeconds;
    const frame = { timeSeconds, widthPx, heightPx, pose: null, people: null, brightness: null };
    return { frame, workMs: 0, networkMs: 0, dropped: null, isTileOff: true };
  }
}

function sizeOf(picture: PixelSource): { readonly widthPx: number; readonly heightPx: number } {
  return picture instanceof VideoFrame
    ? { widthPx: picture.displayWidth, heightPx: picture.displayHeight }
    : { widthPx: picture.width, heightPx: picture.height };
}

/** Pictures that a source of the given rate must have had between two; null where that is not known. */
function droppedBetween(last: number | null, now: number, rateHz: number | null): number | null {
  if (last === null || rateHz === null) return null;
  return Math.max(0, Math.round((now - last) * rateHz) - 1);
}
