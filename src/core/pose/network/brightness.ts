import type { PixelPicture } from './pixel-picture.ts';

/** Places looked at along each side of the picture. */
const GRID = 24;

/** Mean brightness of a picture, 0 to 255: 0.299 R + 0.587 G + 0.114 B. Source of the weights: ITU-R BT.601. */
export function meanBrightness(picture: PixelPicture): number {
  let sum = 0;
  for (let i = 0; i < GRID; i += 1)
    for (let j = 0; j < GRID; j += 1)
      sum += brightnessAt(
        picture,
        Math.floor(((i + 0.5) / GRID) * picture.columns),
        Math.floor(((j + 0.5) / GRID) * picture.rows),
      );
  return Math.min(255, Math.max(0, sum / (GRID * GRID)));
}

function brightnessAt(picture: PixelPicture, column: number, row: number): number {
  const { pixels } = picture;
  if (picture.kind === 'yuv') {
    const { luma, colours } = picture;
    const value = pixels[luma.offset + row * luma.stride + column] ?? 0;
    return (value - colours.black) * colours.lumaScale;
  }
  const at = (row * picture.columns + column) * 4;
  const [red, green, blue] = [picture.redAt, 1, 2 - picture.redAt].map(
    (channel) => pixels[at + channel] ?? 0,
  );
  return 0.299 * (red ?? 0) + 0.587 * (green ?? 0) + 0.114 * (blue ?? 0);
}
