import type { PixelPicture } from '../pose-estimator.ts';
import type { Region } from './region.ts';

/** What lies beyond the picture's edge: its outermost pixels again, or black. */
export type Border = 'edge' | 'black';

/** How colours become numbers: 0 and 255 become these. */
export interface ValueRange {
  readonly low: number;
  readonly high: number;
}

/** Colour channels of a pixel of the picture, and of the network's input. */
const RGBA = 4;
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
  const { columns, rows, widthPx, heightPx } = picture;
  const toColumns = columns / widthPx;
  const toRows = rows / heightPx;
  const step = region.sizePx / side;
  const alongX = Math.cos(region.turnRad) * step * toColumns;
  const alongY = Math.sin(region.turnRad) * step * toRows;
  const downX = -Math.sin(region.turnRad) * step * toColumns;
  const downY = Math.cos(region.turnRad) * step * toRows;
  // The centre of the input's first place, in pixel indices: half a place in, half a pixel back.
  const half = (side - 1) / 2;
  const startX = region.centreX * toColumns - 0.5 - half * (alongX + downX);
  const startY = region.centreY * toRows - 0.5 - half * (alongY + downY);
  for (let row = 0; row < side; row += 1)
    sampleRow(
      picture,
      { x: startX + row * downX, y: startY + row * downY, alongX, alongY },
      input.subarray(row * side * RGB, (row + 1) * side * RGB),
      range,
      border,
    );
}

interface Line {
  readonly x: number;
  readonly y: number;
  readonly alongX: number;
  readonly alongY: number;
}

/** One row of the input. The innermost loop of every picture: plain arithmetic, nothing made. */
function sampleRow(
  { pixels, columns, rows }: PixelPicture,
  { x: startX, y: startY, alongX, alongY }: Line,
  out: Float32Array,
  { low, high }: ValueRange,
  border: Border,
): void {
  const scale = (high - low) / 255;
  const lastColumn = columns - 1;
  const lastRow = rows - 1;
  const isBlackOutside = border === 'black';
  for (let to = 0, k = 0; to < out.length; to += RGB, k += 1) {
    let x = startX + k * alongX;
    let y = startY + k * alongY;
    if (isBlackOutside && (x < -0.5 || y < -0.5 || x > lastColumn + 0.5 || y > lastRow + 0.5)) {
      out[to] = low;
      out[to + 1] = low;
      out[to + 2] = low;
      continue;
    }
    x = x < 0 ? 0 : x > lastColumn ? lastColumn : x;
    y = y < 0 ? 0 : y > lastRow ? lastRow : y;
    const left = x | 0;
    const top = y | 0;
    const fx = x - left;
    const fy = y - top;
    const a = (top * columns + left) * RGBA;
    const b = left < lastColumn ? a + RGBA : a;
    const down = top < lastRow ? columns * RGBA : 0;
    const wa = (1 - fx) * (1 - fy);
    const wb = fx * (1 - fy);
    const wc = (1 - fx) * fy;
    const wd = fx * fy;
    const c = a + down;
    const d = b + down;
    out[to] =
      low + scale * (wa * at(pixels, a) + wb * at(pixels, b) + wc * at(pixels, c) + wd * at(pixels, d));
    out[to + 1] =
      low +
      scale *
        (wa * at(pixels, a + 1) + wb * at(pixels, b + 1) + wc * at(pixels, c + 1) + wd * at(pixels, d + 1));
    out[to + 2] =
      low +
      scale *
        (wa * at(pixels, a + 2) + wb * at(pixels, b + 2) + wc * at(pixels, c + 2) + wd * at(pixels, d + 2));
  }
}

/** The index is always inside: places were held within the picture's edges above. */
function at(pixels: Uint8ClampedArray | Uint8Array, index: number): number {
  return pixels[index] ?? 0;
}
