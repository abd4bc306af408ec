import type { PixelPicture, RgbPicture } from '../../src/core/pose/network/pixel-picture.ts';

/**
 * The picture with left and right exchanged.
 * @throws Error for pictures that are not red, green and blue.
 */
export function mirroredPicture(picture: PixelPicture): RgbPicture {
  if (picture.kind !== 'rgb') throw new Error('mirroredPicture: the picture is not in red, green and blue.');
  const { columns, rows, pixels } = picture;
  const mirrored = new Uint8Array(pixels.length);
  for (let row = 0; row < rows; row += 1)
    for (let column = 0; column < columns; column += 1) {
      const from = (row * columns + column) * 4;
      mirrored.set(pixels.subarray(from, from + 4), (row * columns + columns - 1 - column) * 4);
    }
  return { ...picture, pixels: mirrored };
}
