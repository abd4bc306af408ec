import { describe, expect, it } from 'vitest';
import {
  inMirror,
  type PixelPicture,
  type RgbPicture,
  yuvColours,
  type YuvPicture,
} from '../../../../src/core/pose/network/pixel-picture.ts';
import { sampleRegion } from '../../../../src/core/pose/network/sample-region.ts';

const rgb: RgbPicture = {
  kind: 'rgb',
  redAt: 0,
  columns: 8,
  rows: 6,
  widthPx: 16,
  heightPx: 12,
  pixels: Uint8Array.from({ length: 8 * 6 * 4 }, (_, i) => (i * 37) % 251),
};
const yuv: YuvPicture = {
  kind: 'yuv',
  columns: 8,
  rows: 6,
  widthPx: 8,
  heightPx: 6,
  pixels: Uint8Array.from({ length: 48 + 24 }, (_, i) => 20 + ((i * 53) % 200)),
  luma: { offset: 0, stride: 8 },
  blueDifference: { offset: 48, stride: 4 },
  redDifference: { offset: 60, stride: 4 },
  chromaStep: 1,
  across: 2,
  down: 2,
  colours: yuvColours('bt601', false),
};

const SIDE = 4;

function look(picture: PixelPicture, centreX: number, turnRad: number): number[] {
  const input = new Float32Array(3 * SIDE * SIDE);
  const region = { centreX, centreY: picture.heightPx * 0.45, sizePx: picture.heightPx * 0.6, turnRad };
  sampleRegion(picture, region, SIDE, input, { low: 0, high: 1 }, 'edge');
  return [...input];
}

/** Each row of places from its end to its start. */
function turnedRows(input: readonly number[]): number[] {
  return Array.from({ length: SIDE }, (_, row) =>
    Array.from({ length: SIDE }, (_, at) => {
      const from = 3 * (row * SIDE + SIDE - 1 - at);
      return input.slice(from, from + 3);
    }).flat(),
  ).flat();
}

describe('a picture in a mirror', () => {
  it.each([
    ['in colours', rgb],
    ['in luma and colour differences', yuv],
  ])('shows at the mirrored place, turned the other way, what the picture %s shows', (_, picture) => {
    const centreX = picture.widthPx * 0.4;
    const inIt = look(inMirror(picture), picture.widthPx - centreX, -0.3);
    const plain = turnedRows(look(picture, centreX, 0.3));
    inIt.forEach((value, i) => expect(value).toBeCloseTo(plain[i] ?? NaN, 5));
    expect(inIt).not.toEqual(look(picture, picture.widthPx - centreX, -0.3));
  });

  it('is the picture itself in a second one', () => {
    expect(look(inMirror(inMirror(rgb)), 7, 0.2)).toEqual(look(rgb, 7, 0.2));
  });
});
