import type { PixelPicture, Plane } from './pixel-picture.ts';

/** Places looked at along each side of the picture. */
export const BRIGHTNESS_GRID = 16;

/** In how many pictures a second of their own time it is looked at, by the rule of picture-rate.ts. */
export const BRIGHTNESS_HZ = 1;

/** Mean brightness of a picture, 0 to 255: 0.299 R + 0.587 G + 0.114 B. Source of the weights: ITU-R BT.601. */
export function meanBrightness(picture: PixelPicture): number {
  let sum = 0;
  for (let i = 0; i < BRIGHTNESS_GRID; i += 1)
    for (let j = 0; j < BRIGHTNESS_GRID; j += 1)
      sum += brightnessAt(
        picture,
        Math.floor(((i + 0.5) / BRIGHTNESS_GRID) * picture.columns),
        Math.floor(((j + 0.5) / BRIGHTNESS_GRID) * picture.rows),
      );
  return sum / BRIGHTNESS_GRID ** 2;
}

function brightnessAt(picture: PixelPicture, column: number, row: number): number {
  // Luma and colour differences may stand for colours that no screen has; what is seen is the nearest one.
  const [red, green, blue] = coloursAt(picture, column, row).map((colour) =>
    Math.min(255, Math.max(0, colour)),
  );
  return 0.299 * (red ?? 0) + 0.587 * (green ?? 0) + 0.114 * (blue ?? 0);
}

/** The same weights whatever equation the picture's own luma follows: a scene is as bright in every format. */
function coloursAt(picture: PixelPicture, column: number, row: number): readonly [number, number, number] {
  const { pixels } = picture;
  const byte = (index: number): number => pixels[index] ?? 0;
  if (picture.kind === 'rgb') {
    const at = (row * picture.columns + column) * 4;
    return [byte(at + picture.redAt), byte(at + 1), byte(at + 2 - picture.redAt)];
  }
  const { luma, blueDifference, redDifference, chromaStep, across, down, colours } = picture;
  const chroma = (plane: Plane): number =>
    byte(plane.offset + Math.floor(row / down) * plane.stride + Math.floor(column / across) * chromaStep) -
    128;
  const [bright, blue, red] = [
    (byte(luma.offset + row * luma.stride + column) - colours.black) * colours.lumaScale,
    chroma(blueDifference),
    chroma(redDifference),
  ];
  return [
    bright + colours.redPerRed * red,
    bright + colours.greenPerRed * red + colours.greenPerBlue * blue,
    bright + colours.bluePerBlue * blue,
  ];
}
