import type { SourcePicture } from '../../core/pose/frame-source.ts';
import { LEAST_STEP_SECONDS } from '../../core/pose/least-step.ts';
import { PictureMemory } from '../../core/pose/network/same-picture.ts';
import type { PictureFraming } from '../../core/pose/picture-framing.ts';
import { isTileOf, type PictureTile } from '../../core/pose/picture-tile.ts';
import { SourceClock } from '../../core/pose/source-clock.ts';
import { brightnessMeter } from './brightness.ts';
import { drawnPixels } from './drawn-pixels.ts';
import { fitSize } from './fit-size.ts';
import { type LiveFrame, liveFrames } from './live-frames.ts';

/** What is played. */
export interface LivePlay {
  readonly stream: MediaStream;
  readonly track: MediaStreamTrack;
  readonly framing: PictureFraming | null;
  readonly stopping: AbortSignal;
}

/** Hands on a live track's pictures one at a time until it ends or is stopped, of a framed tile only what lies in it. */
export async function playLive(
  { stream, track, framing, stopping }: LivePlay,
  consume: (picture: SourcePicture) => Promise<void>,
): Promise<void> {
  const frames = await liveFrames(stream, track);
  const close = (): void => frames.close();
  if (stopping.aborted) close();
  stopping.addEventListener('abort', close, { once: true });
  const canvas = new OffscreenCanvas(1, 1);
  const context = canvas.getContext('2d', { alpha: false, willReadFrequently: framing !== null });
  const meter = brightnessMeter();
  const clock = new SourceClock();
  const memory = new PictureMemory();
  let last = Number.NEGATIVE_INFINITY;
  try {
    while (!stopping.aborted) {
      const frame = await frames.next();
      if (frame === null || context === null) break;
      // Time must rise: a picture given twice, or a clock set back, is dropped.
      if (frame.timeSeconds < last + LEAST_STEP_SECONDS || frame.width === 0) continue;
      const tile = framing?.tile ?? null;
      const isOff = tile !== null && !isTileOf(tile, { widthPx: frame.width, heightPx: frame.height });
      const { width, height } =
        tile === null ? fitSize(frame.width, frame.height) : fitSize(tile.widthPx, tile.heightPx);
      // A shared window may change its size. Setting the same size would clear and cost for nothing.
      if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
      // A copy, because the picture must stay the same for everything that looks at it.
      if (isOff) context.clearRect(0, 0, width, height);
      else draw(context, frame, tile, width, height);
      if (!isOff && framing !== null && memory.isSame(drawnPixels(context, width, height))) continue;
      last = frame.timeSeconds;
      const timeSeconds = clock.since(last);
      await consume({
        picture: canvas,
        widthPx: width,
        heightPx: height,
        timeSeconds,
        brightness: isOff ? null : meter.look(canvas, timeSeconds),
        ...(isOff ? { isTileOff: true } : {}),
      });
    }
  } finally {
    close();
  }
}

function draw(
  context: OffscreenCanvasRenderingContext2D,
  { image, width, height }: LiveFrame,
  tile: PictureTile | null,
  toWidth: number,
  toHeight: number,
): void {
  const cut = tile ?? { leftPx: 0, topPx: 0, widthPx: width, heightPx: height, isMirrored: false };
  if (cut.isMirrored) context.setTransform(-1, 0, 0, 1, toWidth, 0);
  context.drawImage(image, cut.leftPx, cut.topPx, cut.widthPx, cut.heightPx, 0, 0, toWidth, toHeight);
  context.resetTransform();
}
