import type { Picture } from '../../core/pose/pose-estimator.ts';

/** Side of the small copy that is looked at, pixels. */
const SAMPLE_PX = 16;

/** How often a source looks, seconds. */
const EVERY_SECONDS = 1;

/** Looks at a picture's brightness now and then. */
export interface BrightnessMeter {
  /** Mean brightness 0 to 255, or null when it is not yet time to look again. */
  look(picture: Picture, timeSeconds: number): number | null;
}

/** A meter that looks at the first picture and then about once a second of the pictures' own clock. */
export function brightnessMeter(): BrightnessMeter {
  const context = new OffscreenCanvas(SAMPLE_PX, SAMPLE_PX).getContext('2d', { willReadFrequently: true });
  let next = Number.NEGATIVE_INFINITY;
  return {
    look(picture, timeSeconds) {
      if (context === null || timeSeconds < next) return null;
      next = timeSeconds + EVERY_SECONDS;
      context.drawImage(picture, 0, 0, SAMPLE_PX, SAMPLE_PX);
      return meanLuma(context.getImageData(0, 0, SAMPLE_PX, SAMPLE_PX).data);
    },
  };
}

/** Mean of 0.299 R + 0.587 G + 0.114 B. Source of the weights: ITU-R BT.601. */
function meanLuma(rgba: Uint8ClampedArray): number {
  let sum = 0;
  for (let i = 0; i < rgba.length; i += 4)
    sum += 0.299 * (rgba[i] ?? 0) + 0.587 * (rgba[i + 1] ?? 0) + 0.114 * (rgba[i + 2] ?? 0);
  return sum / (rgba.length / 4);
}
