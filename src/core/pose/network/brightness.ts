import type { PixelPicture } from '../pose-estimator.ts';

/** Places looked at along each side of the picture. */
const GRID = 24;

/** Mean brightness of a picture, 0 to 255: 0.299 R + 0.587 G + 0.114 B. Source of the weights: ITU-R BT.601. */
export function meanBrightness({ pixels, columns, rows }: PixelPicture): number {
  let sum = 0;
  for (let i = 0; i < GRID; i += 1)
    for (let j = 0; j < GRID; j += 1) {
      const column = Math.floor(((i + 0.5) / GRID) * columns);
      const row = Math.floor(((j + 0.5) / GRID) * rows);
      const at = (row * columns + column) * 4;
      sum += 0.299 * (pixels[at] ?? 0) + 0.587 * (pixels[at + 1] ?? 0) + 0.114 * (pixels[at + 2] ?? 0);
    }
  return sum / (GRID * GRID);
}
