import type { PixelPicture } from './pixel-picture.ts';
import type { Region } from './region.ts';
import { sampleRow, type ValueRange } from './sample-rows.ts';

/** What lies beyond the picture's edge: its outermost pixels again, or black. */
export type Border = 'edge' | 'black';

/** Numbers for each place of the network's input. */
const RGB = 3;

/**
 * Samples a turned square of the picture into a network's square input, red, green, blue for each place, row by row.
 * Bilinear between pixel centres, as the published graph does it on the graphics processor: no smoothing before.
 * @param input - room for 3 x side x side numbers
 */
export function sampleRegion(
  picture: PixelPicture,
  region: Region,
  side: number,
  input: Float32Array,
  range: ValueRange,
  border: Border,
): void {
  const toColumns = picture.columns / picture.widthPx;
  const toRows = picture.rows / picture.heightPx;
  const step = region.sizePx / side;
  const alongX = Math.cos(region.turnRad) * step * toColumns;
  const alongY = Math.sin(region.turnRad) * step * toRows;
  const downX = -Math.sin(region.turnRad) * step * toColumns;
  const downY = Math.cos(region.turnRad) * step * toRows;
  // The centre of the input's first place, in pixel indices: half a place in, half a pixel back.
  const half = (side - 1) / 2;
  const startX = region.centreX * toColumns - 0.5 - half * (alongX + downX);
  const startY = region.centreY * toRows - 0.5 - half * (alongY + downY);
  const isBlackOutside = border === 'black';
  const [firstX, onwards] = picture.isMirrored === true ? [picture.columns - 1, -1] : [0, 1];
  for (let row = 0; row < side; row += 1) {
    const line = {
      x: firstX + onwards * (startX + row * downX),
      y: startY + row * downY,
      alongX: onwards * alongX,
      alongY,
    };
    const out = input.subarray(row * side * RGB, (row + 1) * side * RGB);
    sampleRow(picture, line, out, range, isBlackOutside);
  }
}
