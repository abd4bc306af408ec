import { describe, expect, it } from 'vitest';
import { type PixelPicture, yuvColours } from '../../../../src/core/pose/network/pixel-picture.ts';
import { PictureMemory } from '../../../../src/core/pose/network/same-picture.ts';

function rgb(columns: number, rows: number, value: (index: number) => number): PixelPicture {
  const pixels = Uint8Array.from({ length: columns * rows * 4 }, (_, index) => value(index));
  return { kind: 'rgb', redAt: 0, pixels, columns, rows, widthPx: columns, heightPx: rows };
}

function yuv(stride: number, luma: number, beyond: number): PixelPicture {
  const pixels = new Uint8Array(stride * 12 * 2).fill(beyond);
  for (let row = 0; row < 12; row += 1) pixels.fill(luma, row * stride, row * stride + 16);
  const plane = { offset: stride * 12, stride };
  return {
    kind: 'yuv',
    pixels,
    columns: 16,
    rows: 12,
    widthPx: 16,
    heightPx: 12,
    luma: { offset: 0, stride },
    blueDifference: plane,
    redDifference: plane,
    chromaStep: 1,
    across: 2,
    down: 2,
    colours: yuvColours('bt601', false),
  };
}

describe('a picture that is shown again', () => {
  it('is told from a new one, also where the buffer is used again', () => {
    const memory = new PictureMemory();
    const picture = rgb(40, 30, (index) => index % 251);
    expect(memory.isSame(picture)).toBe(false);
    expect(memory.isSame(picture)).toBe(true);
    picture.pixels[4 * (40 * 8 + 12) + 1] = 255;
    expect(memory.isSame(picture)).toBe(false);
    expect(memory.isSame(picture)).toBe(true);
  });

  it('is another one in another size, though all of it is one grey', () => {
    const memory = new PictureMemory();
    expect(memory.isSame(rgb(40, 30, () => 9))).toBe(false);
    expect(memory.isSame(rgb(40, 40, () => 9))).toBe(false);
    expect(memory.isSame(rgb(40, 40, () => 9))).toBe(true);
  });

  it('is looked at by its luma, not by the bytes that fill its rows', () => {
    const memory = new PictureMemory();
    expect(memory.isSame(yuv(32, 90, 1))).toBe(false);
    expect(memory.isSame(yuv(32, 90, 200))).toBe(true);
    expect(memory.isSame(yuv(32, 91, 200))).toBe(false);
  });
});
