import type { VideoSample } from 'mediabunny';
import { LONGEST_CLIP_SECONDS } from '../../core/pose/clip-limits.ts';
import type { SourceProblem } from '../../core/pose/frame-source.ts';
import type { Side } from '../../core/pose/landmark.ts';
import { LEAST_STEP_SECONDS } from '../../core/pose/least-step.ts';
import { BRIGHTNESS_HZ, meanBrightness } from '../../core/pose/network/brightness.ts';
import { isToBeMeasured } from '../../core/pose/picture-rate.ts';
import type { PixelPicture } from '../../core/pose/network/pixel-picture.ts';
import type { PixelReader, TimedEstimator } from '../../core/pose/pose-estimator.ts';
import { poseFollower } from '../../core/pose/pose-follower.ts';
import type { PoseFrame } from '../../core/pose/pose-frame.ts';
import { openClipFile } from './clip-file.ts';
import { ClipPictures, type ClipSpan } from './clip-pictures.ts';
import { fitSize } from './fit-size.ts';
import { UprightPicture } from './upright-picture.ts';

/** Pictures to look at, a second of the clock on the wall: enough to see that it goes on. */
const SHOWN_HZ = 8;

/** How a clip is measured. */
export interface ClipSettings {
  readonly side: Side;
  readonly rateHz: number | null;
}

/** Which segment, and with what. */
export interface SegmentRequest {
  readonly segment: number;
  readonly isLast: boolean;
  readonly estimator: TimedEstimator;
}

/** What was measured in a picture of a clip. */
export interface ClipMeasured {
  readonly frame: PoseFrame;
  readonly workMs: number;
  readonly networkMs: number;
  /** To be looked at; null most of the time. Whoever takes it closes it. */
  readonly picture: ImageBitmap | null;
}

/** How a segment ended. */
export interface SegmentEnd {
  /** The time of its last picture, measured or not; null when it has none. */
  readonly lastPictureSeconds: number | null;
  readonly problem: SourceProblem | null;
}

/** A clip of which a worker measures segments, one at a time. */
export class ClipSegments {
  readonly span: ClipSpan;
  /** The segment that is shown while it is measured, or null. */
  shown: number | null = null;
  readonly #pictures: ClipPictures;
  readonly #settings: ClipSettings;
  readonly #upright: UprightPicture;
  #isClosed = false;
  #shownAtMs = Number.NEGATIVE_INFINITY;

  /** Opens a clip by its file or its address. A problem where it cannot be measured. */
  static async open(
    from: Blob | string,
    settings: ClipSettings,
    reader: PixelReader,
  ): Promise<ClipSegments | SourceProblem> {
    const file = await openClipFile(from);
    if (typeof file === 'string') return file;
    const size = fitSize(await file.track.getDisplayWidth(), await file.track.getDisplayHeight());
    const pictures = new ClipPictures(file);
    return new ClipSegments(pictures, await pictures.span(), settings, new UprightPicture(size, reader));
  }

  private constructor(
    pictures: ClipPictures,
    span: ClipSpan,
    settings: ClipSettings,
    upright: UprightPicture,
  ) {
    this.#pictures = pictures;
    this.span = span;
    this.#settings = settings;
    this.#upright = upright;
  }

  /**
   * Measures a segment from a fresh search on, and hands on what was measured picture by picture; null when the clip was
   * closed meanwhile. Rejects with an EstimatorError.
   */
  async measure(
    { segment, isLast, estimator }: SegmentRequest,
    take: (measured: ClipMeasured) => void,
  ): Promise<SegmentEnd | null> {
    const { rateHz, side } = this.#settings;
    const follower = poseFollower(estimator, side);
    let last: number | null = null;
    let lastMeasured: number | null = null;
    const samples = this.#pictures.of({ segment, isLast, rateHz });
    try {
      for (;;) {
        const next = await samples.next();
        if (this.#isClosed) {
          if (next.done !== true) next.value.close();
          return null;
        }
        if (next.done === true) return { lastPictureSeconds: last, problem: next.value };
        const { timestamp } = next.value;
        const isAgain = last !== null && timestamp < last + LEAST_STEP_SECONDS;
        const isTooLate = timestamp - (this.span.firstSeconds ?? 0) > LONGEST_CLIP_SECONDS;
        if (isAgain || isTooLate || !isToBeMeasured(timestamp, lastMeasured, rateHz)) {
          next.value.close();
          if (isTooLate) return { lastPictureSeconds: timestamp, problem: 'clip-too-long' };
          if (!isAgain) last = timestamp;
          continue;
        }
        last = timestamp;
        const isBrightnessDue = isToBeMeasured(timestamp, lastMeasured, BRIGHTNESS_HZ);
        lastMeasured = timestamp;
        const from = performance.now();
        const { pixels, picture } = await this.#read(next.value, segment === this.shown);
        const { widthPx, heightPx } = pixels;
        const brightness = isBrightnessDue ? meanBrightness(pixels) : null;
        const seen = { picture: pixels, widthPx, heightPx, timeSeconds: timestamp, brightness };
        const frame = await follower.follow(seen);
        const workMs = performance.now() - from;
        take({ frame, workMs, networkMs: estimator.networkMs, picture });
      }
    } finally {
      await samples.return(null);
    }
  }

  close(): void {
    this.#isClosed = true;
    this.#pictures.dispose();
  }

  /** Reads a picture and closes it, whatever comes. */
  async #read(
    sample: VideoSample,
    isShown: boolean,
  ): Promise<{ readonly pixels: PixelPicture; readonly picture: ImageBitmap | null }> {
    try {
      const pixels = await this.#upright.pixels(sample);
      const nowMs = performance.now();
      if (!isShown || nowMs < this.#shownAtMs + 1000 / SHOWN_HZ) return { pixels, picture: null };
      this.#shownAtMs = nowMs;
      return { pixels, picture: await this.#upright.toLookAt(sample) };
    } finally {
      sample.close();
    }
  }
}
