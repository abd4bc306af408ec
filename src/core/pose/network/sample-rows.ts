import type { RgbPicture, YuvPicture } from './pixel-picture.ts';

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

// The innermost loops of every picture: plain arithmetic, nothing is made, and indices are held inside beforehand.

/** Samples a row of places of an RGB picture, bilinear. Places beyond the edge take the edge, or black where told. */
export function sampleRgbRow(
  { pixels, columns, rows, redAt }: RgbPicture,
  { x: startX, y: startY, alongX, alongY }: Line,
  out: Float32Array,
  { low, high }: ValueRange,
  isBlackOutside: boolean,
): void {
  const scale = (high - low) / 255;
  const lastColumn = columns - 1;
  const lastRow = rows - 1;
  const blueAt = 2 - redAt;
  for (let to = 0, k = 0; to < out.length; to += 3, k += 1) {
    let x = startX + k * alongX;
    let y = startY + k * alongY;
    if (isBlackOutside && (x < -0.5 || y < -0.5 || x > lastColumn + 0.5 || y > lastRow + 0.5)) {
      out.fill(low, to, to + 3);
      continue;
    }
    x = x < 0 ? 0 : x > lastColumn ? lastColumn : x;
    y = y < 0 ? 0 : y > lastRow ? lastRow : y;
    const left = x | 0;
    const top = y | 0;
    const fx = x - left;
    const fy = y - top;
    const a = (top * columns + left) * 4;
    const b = left < lastColumn ? a + 4 : a;
    const down = top < lastRow ? columns * 4 : 0;
    const wa = (1 - fx) * (1 - fy);
    const wb = fx * (1 - fy);
    const wc = (1 - fx) * fy;
    const wd = fx * fy;
    for (let channel = 0; channel < 3; channel += 1) {
      const at = channel === 0 ? redAt : channel === 2 ? blueAt : 1;
      const value =
        wa * byte(pixels, a + at) +
        wb * byte(pixels, b + at) +
        wc * byte(pixels, a + down + at) +
        wd * byte(pixels, b + down + at);
      out[to + channel] = low + scale * value;
    }
  }
}

/** The same of a picture of luma and colour differences. Each lies in the middle of the pixels that it stands for. */
export function sampleYuvRow(
  picture: YuvPicture,
  { x: startX, y: startY, alongX, alongY }: Line,
  out: Float32Array,
  { low, high }: ValueRange,
  isBlackOutside: boolean,
): void {
  const { pixels, columns, rows, luma, blueDifference, redDifference, chromaStep, across, down } = picture;
  const { black, lumaScale, redPerRed, greenPerRed, greenPerBlue, bluePerBlue } = picture.colours;
  const scale = (high - low) / 255;
  const lastColumn = columns - 1;
  const lastRow = rows - 1;
  const lastChromaColumn = Math.ceil(columns / across) - 1;
  const lastChromaRow = Math.ceil(rows / down) - 1;
  for (let to = 0, k = 0; to < out.length; to += 3, k += 1) {
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
    let left = x | 0;
    let top = y | 0;
    let fx = x - left;
    let fy = y - top;
    let a = luma.offset + top * luma.stride + left;
    let right = left < lastColumn ? 1 : 0;
    let below = top < lastRow ? luma.stride : 0;
    const upper = byte(pixels, a) + fx * (byte(pixels, a + right) - byte(pixels, a));
    const lower = byte(pixels, a + below) + fx * (byte(pixels, a + below + right) - byte(pixels, a + below));
    const bright = (upper + fy * (lower - upper) - black) * lumaScale;

    x = (x + 0.5) / across - 0.5;
    y = (y + 0.5) / down - 0.5;
    x = x < 0 ? 0 : x > lastChromaColumn ? lastChromaColumn : x;
    y = y < 0 ? 0 : y > lastChromaRow ? lastChromaRow : y;
    left = x | 0;
    top = y | 0;
    fx = x - left;
    fy = y - top;
    right = left < lastChromaColumn ? chromaStep : 0;
    a = blueDifference.offset + top * blueDifference.stride + left * chromaStep;
    below = top < lastChromaRow ? blueDifference.stride : 0;
    const blueUpper = byte(pixels, a) + fx * (byte(pixels, a + right) - byte(pixels, a));
    const blueLower =
      byte(pixels, a + below) + fx * (byte(pixels, a + below + right) - byte(pixels, a + below));
    const blue = blueUpper + fy * (blueLower - blueUpper) - 128;
    a = redDifference.offset + top * redDifference.stride + left * chromaStep;
    below = top < lastChromaRow ? redDifference.stride : 0;
    const redUpper = byte(pixels, a) + fx * (byte(pixels, a + right) - byte(pixels, a));
    const redLower =
      byte(pixels, a + below) + fx * (byte(pixels, a + below + right) - byte(pixels, a + below));
    const red = redUpper + fy * (redLower - redUpper) - 128;

    out[to] = low + scale * within(bright + redPerRed * red);
    out[to + 1] = low + scale * within(bright + greenPerRed * red + greenPerBlue * blue);
    out[to + 2] = low + scale * within(bright + bluePerBlue * blue);
  }
}

function within(colour: number): number {
  return colour < 0 ? 0 : colour > 255 ? 255 : colour;
}

function byte(pixels: Uint8ClampedArray | Uint8Array, index: number): number {
  return pixels[index] ?? 0;
}
