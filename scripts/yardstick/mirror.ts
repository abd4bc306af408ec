import type { PixelPicture, RgbPicture } from '../../src/core/pose/network/pixel-picture.ts';
import type { Pose } from '../../src/core/pose/pose-frame.ts';
import { exchanged } from '../../tests/helpers/synthetic-body.ts';

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

/** What was found in a mirrored picture as it is in the picture itself; the person's left is left again. */
export function mirroredPose(pose: Pose | null, widthPx: number): Pose | null {
  if (pose === null) return null;
  const { image, world } = exchanged(pose);
  return {
    image: image.map((point) => ({ ...point, x: widthPx - point.x })),
    world: world.map((point) => ({ ...point, x: -point.x })),
  };
}
