import { BRIGHTNESS_GRID, BRIGHTNESS_HZ, meanBrightness } from '../../core/pose/network/brightness.ts';
import { isToBeMeasured } from '../../core/pose/picture-rate.ts';
import type { Picture } from '../../core/pose/pose-estimator.ts';
import { drawnPixels } from './drawn-pixels.ts';

/** Looks at a picture's brightness now and then. */
export interface BrightnessMeter {
  /** Mean brightness 0 to 255, or null when it is not yet time to look again. */
  look(picture: Picture, timeSeconds: number): number | null;
}

/** A meter that looks at the first picture of each second of the pictures' own clock. */
export function brightnessMeter(): BrightnessMeter {
  const side = BRIGHTNESS_GRID;
  const context = new OffscreenCanvas(side, side).getContext('2d', { willReadFrequently: true });
  let lastSeconds: number | null = null;
  return {
    look(picture, timeSeconds) {
      const isDue = isToBeMeasured(timeSeconds, lastSeconds, BRIGHTNESS_HZ);
      lastSeconds = timeSeconds;
      if (context === null || !isDue) return null;
      context.drawImage(picture, 0, 0, side, side);
      return meanBrightness(drawnPixels(context, side, side));
    },
  };
}
