import { getRotatedSubRectToRectTransformMatrix } from '@tensorflow-models/pose-detection/dist/shared/calculators/get_rotated_sub_rect_to_rect_transformation_matrix.js';
import { describe, expect, it } from 'vitest';
import { meanBrightness } from '../../../../src/core/pose/network/brightness.ts';
import {
  type PixelPicture,
  yuvColours,
  type YuvPicture,
} from '../../../../src/core/pose/network/pixel-picture.ts';
import type { Region } from '../../../../src/core/pose/network/region.ts';
import { sampleRegion } from '../../../../src/core/pose/network/sample-region.ts';

// Outside checks: the published calculator of pose-detection 2.1.3, and the ITU-R luma equations.

const RANGE = { low: 0, high: 1 };

/** A picture whose red grows by 1 a column and whose green grows by 1 a row: places can be read off. */
function ramp(columns: number, rows: number): PixelPicture {
  const pixels = new Uint8ClampedArray(columns * rows * 4);
  for (let row = 0; row < rows; row += 1)
    for (let column = 0; column < columns; column += 1)
      pixels.set([column, row, 128, 255], (row * columns + column) * 4);
  return { kind: 'rgb', redAt: 0, pixels, columns, rows, widthPx: columns, heightPx: rows };
}

describe('sampling a region', () => {
  const side = 16;
  const at = (input: Float32Array, column: number, row: number, channel: number): number =>
    (input[(row * side + column) * 3 + channel] ?? Number.NaN) * 255;

  it.each([0, 0.5, -2])("reads where the library's matrix puts each place, turned by %d", (turnRad) => {
    const region: Region = { centreX: 120, centreY: 110, sizePx: 90, turnRad };
    const input = new Float32Array(side * side * 3);
    sampleRegion(ramp(240, 220), region, side, input, RANGE, 'edge');
    const rect = { xCenter: 120, yCenter: 110, width: 90, height: 90, rotation: turnRad };
    const matrix = getRotatedSubRectToRectTransformMatrix(rect, 240, 220, false);
    for (const [column, row] of [
      [0, 0],
      [15, 0],
      [7, 8],
      [3, 15],
    ] as const) {
      const [u, v] = [(column + 0.5) / side, (row + 0.5) / side];
      const x = (matrix[0][0] * u + matrix[0][1] * v + matrix[0][3]) * 240;
      const y = (matrix[1][0] * u + matrix[1][1] * v + matrix[1][3]) * 220;
      // Colour n sits in the middle of pixel n, half a pixel further on.
      expect(at(input, column, row, 0)).toBeCloseTo(x - 0.5, 3);
      expect(at(input, column, row, 1)).toBeCloseTo(y - 0.5, 3);
    }
  });

  it("repeats the edge beyond the picture for landmarks, and is black there for the detector's square", () => {
    const region: Region = { centreX: 0, centreY: 20, sizePx: 40, turnRad: 0 };
    const edge = new Float32Array(side * side * 3);
    sampleRegion(ramp(60, 40), region, side, edge, RANGE, 'edge');
    expect(at(edge, 0, 8, 2)).toBeCloseTo(128, 3);
    expect(at(edge, 0, 8, 0)).toBe(0);
    const black = new Float32Array(side * side * 3);
    sampleRegion(ramp(60, 40), region, side, black, { low: -1, high: 1 }, 'black');
    expect(black[8 * side * 3 + 2]).toBe(-1);
    expect(black[(8 * side + 12) * 3 + 2]).toBeCloseTo(128 / 127.5 - 1, 5);
  });

  it('takes a very large picture by the same places when landmarks are given in a smaller size', () => {
    const input = new Float32Array(side * side * 3);
    const large = { ...ramp(240, 220), widthPx: 120, heightPx: 110 };
    sampleRegion(large, { centreX: 60, centreY: 55, sizePx: 45, turnRad: 0.5 }, side, input, RANGE, 'edge');
    const plain = new Float32Array(side * side * 3);
    sampleRegion(
      ramp(240, 220),
      { centreX: 120, centreY: 110, sizePx: 90, turnRad: 0.5 },
      side,
      plain,
      RANGE,
      'edge',
    );
    input.forEach((value, index) => expect(value).toBeCloseTo(plain[index] ?? Number.NaN, 5));
  });
});

/** A picture of one colour in planes, as cameras give it: a row of padding after each row of a plane. */
function planes(
  colour: readonly [number, number, number],
  colours: YuvPicture['colours'],
  isInterleaved: boolean,
): YuvPicture {
  const [columns, rows, pad] = [10, 6, 3];
  const chroma = { columns: 5, rows: 3 };
  const lumaStride = columns + pad;
  const chromaStride = (isInterleaved ? 2 : 1) * chroma.columns + pad;
  const lumaBytes = lumaStride * rows;
  const chromaBytes = chromaStride * chroma.rows;
  const pixels = new Uint8Array(lumaBytes + 2 * chromaBytes).fill(7);
  for (let row = 0; row < rows; row += 1)
    pixels.fill(colour[0], row * lumaStride, row * lumaStride + columns);
  const step = isInterleaved ? 2 : 1;
  const second = isInterleaved ? lumaBytes + 1 : lumaBytes + chromaBytes;
  for (let row = 0; row < chroma.rows; row += 1)
    for (let column = 0; column < chroma.columns; column += 1) {
      pixels[lumaBytes + row * chromaStride + column * step] = colour[1];
      pixels[second + row * chromaStride + column * step] = colour[2];
    }
  return {
    kind: 'yuv',
    pixels,
    columns,
    rows,
    widthPx: columns,
    heightPx: rows,
    luma: { offset: 0, stride: lumaStride },
    blueDifference: { offset: lumaBytes, stride: chromaStride },
    redDifference: { offset: second, stride: chromaStride },
    chromaStep: isInterleaved ? 2 : 1,
    across: 2,
    down: 2,
    colours,
  };
}

describe('pictures of luma and colour differences', () => {
  // Colour bars at 100 % in 8 bits: ITU-R BT.601-7 and BT.709-6 by their equations; the rounded values from memory.
  const BARS = [
    ['bt601', [235, 128, 128], [255, 255, 255]],
    ['bt601', [81, 90, 240], [255, 0, 0]],
    ['bt601', [145, 54, 34], [0, 255, 0]],
    ['bt601', [41, 240, 110], [0, 0, 255]],
    ['bt709', [63, 102, 240], [255, 0, 0]],
    ['bt709', [173, 42, 26], [0, 255, 0]],
    ['bt709', [32, 240, 118], [0, 0, 255]],
    ['bt709', [16, 128, 128], [0, 0, 0]],
  ] as const;

  it.each(BARS)('%s %j is the colour %j, in every place up to the edge', (equation, colour, expected) => {
    const side = 8;
    for (const isInterleaved of [false, true]) {
      const picture = planes(colour, yuvColours(equation, false), isInterleaved);
      const input = new Float32Array(side * side * 3);
      sampleRegion(picture, { centreX: 5, centreY: 3, sizePx: 14, turnRad: 0.3 }, side, input, RANGE, 'edge');
      input.forEach((value, index) => {
        // The bars are rounded to whole steps, of which one is up to 2 steps of a colour.
        expect(Math.abs(value * 255 - (expected[index % 3] ?? NaN))).toBeLessThan(2.2);
      });
    }
  });

  it('uses all of 0 to 255 where the picture does', () => {
    const input = new Float32Array(3);
    const region: Region = { centreX: 5, centreY: 3, sizePx: 1, turnRad: 0 };
    sampleRegion(planes([100, 128, 128], yuvColours('bt601', true), false), region, 1, input, RANGE, 'edge');
    expect(Array.from(input, (value) => value * 255)).toEqual(
      [100, 100, 100].map((grey) => expect.closeTo(grey, 3)),
    );
  });

  it('reads luma and colour differences where they lie', () => {
    // Luma grows by 2 a column and 3 a row; differences by 4 a block across and 5 a block down.
    const picture = planes([0, 0, 0], yuvColours('bt601', true), false);
    const { pixels, luma, blueDifference, redDifference } = picture;
    for (let row = 0; row < 6; row += 1)
      for (let column = 0; column < 10; column += 1)
        pixels[luma.offset + row * luma.stride + column] = 100 + 2 * column + 3 * row;
    for (let row = 0; row < 3; row += 1)
      for (let column = 0; column < 5; column += 1) {
        pixels[blueDifference.offset + row * blueDifference.stride + column] = 128 + 4 * column + 5 * row;
        pixels[redDifference.offset + row * redDifference.stride + column] = 128;
      }
    const input = new Float32Array(3);
    // The place (6.2, 3.4) in the picture: index 5.7, 2.9 of luma; block index 2.6, 1.2 of the differences.
    sampleRegion(picture, { centreX: 6.2, centreY: 3.4, sizePx: 1, turnRad: 0 }, 1, input, RANGE, 'edge');
    const bright = 100 + 2 * 5.7 + 3 * 2.9;
    const blue = 4 * 2.6 + 5 * 1.2;
    expect((input[0] ?? 0) * 255).toBeCloseTo(bright, 3);
    expect((input[2] ?? 0) * 255).toBeCloseTo(bright + 1.772 * blue, 3);
    expect((input[1] ?? 0) * 255).toBeCloseTo(bright - ((1.772 * 0.114) / 0.587) * blue, 3);
  });

  it('takes a colour that no screen has as the nearest one', () => {
    // Black luma with the least colour differences: green alone is above nothing, 0.391 x 128 + 0.813 x 128 = 154 at most.
    const green = meanBrightness(planes([16, 0, 0], yuvColours('bt601', false), false)) / 0.587;
    expect(green).toBeGreaterThan(150);
    expect(green).toBeLessThan(156);
  });

  it('knows how bright they are', () => {
    expect(meanBrightness(planes([235, 128, 128], yuvColours('bt601', false), false))).toBeCloseTo(255, 3);
    expect(meanBrightness(planes([16, 128, 128], yuvColours('bt601', false), true))).toBeCloseTo(0, 3);
  });
});

describe('brightness', () => {
  it('weighs the colours as ITU-R BT.601 does', () => {
    const plain = (colour: readonly number[]): PixelPicture => ({
      kind: 'rgb',
      redAt: 0,
      pixels: new Uint8ClampedArray(Array.from({ length: 64 }, () => [...colour, 255]).flat()),
      columns: 8,
      rows: 8,
      widthPx: 8,
      heightPx: 8,
    });
    expect(meanBrightness(plain([255, 0, 0]))).toBeCloseTo(76.245, 3);
    expect(meanBrightness(plain([0, 255, 0]))).toBeCloseTo(149.685, 3);
    expect(meanBrightness(plain([255, 255, 255]))).toBeCloseTo(255, 3);
  });
});
