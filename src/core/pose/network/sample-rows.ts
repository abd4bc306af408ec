import { clamp } from '../../math/statistics.ts';
import type { PixelPicture, RgbPicture, YuvPicture } from './pixel-picture.ts';

/** A row of places in a picture, pixel indices: where it starts, and from one place to the next. */
export interface Line {
  readonly x: number;
  readonly y: number;
  readonly alongX: number;
  readonly alongY: number;
}

/** How colours become numbers: 0 and 255 become these. */
export interface ValueRange {
  readonly low: number;
  readonly high: number;
}

// The innermost loops of every picture: plain arithmetic, and nothing is made.

/** Samples a row of places of a picture, bilinear. Places beyond the edge take the edge, or black where told. */
export function sampleRow(
  picture: PixelPicture,
  { x: startX, y: startY, alongX, alongY }: Line,
  out: Float32Array,
  { low, high }: ValueRange,
  isBlackOutside: boolean,
): void {
  const { columns, rows } = picture;
  const scale = (high - low) / 255;
  for (let to = 0, k = 0; to < out.length; to += 3, k += 1) {
    const x = startX + k * alongX;
    const y = startY + k * alongY;
    const isOutside = x < -0.5 || y < -0.5 || x > columns - 0.5 || y > rows - 0.5;
    if (isBlackOutside && isOutside) out.fill(low, to, to + 3);
    else if (picture.kind === 'rgb') rgbAt(picture, x, y, out, to, low, scale);
    else yuvAt(picture, x, y, out, to, low, scale);
  }
}

function rgbAt(
  { pixels, columns, rows, redAt }: RgbPicture,
  x: number,
  y: number,
  out: Float32Array,
  to: number,
  low: number,
  scale: number,
): void {
  const stride = columns * 4;
  out[to] = low + scale * between(pixels, redAt, stride, 4, columns, rows, x, y);
  out[to + 1] = low + scale * between(pixels, 1, stride, 4, columns, rows, x, y);
  out[to + 2] = low + scale * between(pixels, 2 - redAt, stride, 4, columns, rows, x, y);
}

/** A colour difference lies in the middle of the pixels that it stands for. */
function yuvAt(
  picture: YuvPicture,
  x: number,
  y: number,
  out: Float32Array,
  to: number,
  low: number,
  scale: number,
): void {
  const { pixels, columns, rows, luma, blueDifference, redDifference, chromaStep, across, down } = picture;
  const { black, lumaScale, redPerRed, greenPerRed, greenPerBlue, bluePerBlue } = picture.colours;
  const wide = Math.ceil(columns / across);
  const tall = Math.ceil(rows / down);
  const cx = (x + 0.5) / across - 0.5;
  const cy = (y + 0.5) / down - 0.5;
  const bright = (between(pixels, luma.offset, luma.stride, 1, columns, rows, x, y) - black) * lumaScale;
  const blue =
    between(pixels, blueDifference.offset, blueDifference.stride, chromaStep, wide, tall, cx, cy) - 128;
  const red =
    between(pixels, redDifference.offset, redDifference.stride, chromaStep, wide, tall, cx, cy) - 128;
  out[to] = low + scale * clamp(bright + redPerRed * red, 0, 255);
  out[to + 1] = low + scale * clamp(bright + greenPerRed * red + greenPerBlue * blue, 0, 255);
  out[to + 2] = low + scale * clamp(bright + bluePerBlue * blue, 0, 255);
}

/** The value at a place of one plane, between its four neighbours; places beyond the edge take the edge. */
function between(
  pixels: Uint8ClampedArray | Uint8Array,
  offset: number,
  stride: number,
  step: number,
  columns: number,
  rows: number,
  x: number,
  y: number,
): number {
  const px = x < 0 ? 0 : x > columns - 1 ? columns - 1 : x;
  const py = y < 0 ? 0 : y > rows - 1 ? rows - 1 : y;
  const left = px | 0;
  const top = py | 0;
  const fx = px - left;
  const a = offset + top * stride + left * step;
  const right = left < columns - 1 ? step : 0;
  const below = top < rows - 1 ? stride : 0;
  const upper = byte(pixels, a) + fx * (byte(pixels, a + right) - byte(pixels, a));
  const lower = byte(pixels, a + below) + fx * (byte(pixels, a + below + right) - byte(pixels, a + below));
  return upper + (py - top) * (lower - upper);
}

function byte(pixels: Uint8ClampedArray | Uint8Array, index: number): number {
  return pixels[index] ?? 0;
}
