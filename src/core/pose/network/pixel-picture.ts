/** One colour plane in a buffer of bytes. */
export interface Plane {
  /** Index of its first byte. */
  readonly offset: number;
  /** Bytes from one row to the next. */
  readonly stride: number;
}

/** Size of a picture's numbers, and the size in which landmarks are given: the same, or smaller for very large ones. */
interface PictureSize {
  readonly columns: number;
  readonly rows: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Columns count from the right edge: the same numbers are the picture in a mirror. */
  readonly isMirrored?: boolean;
}

/** Red, green, blue and a fourth byte for each pixel, 0 to 255, row by row from the top. */
export interface RgbPicture extends PictureSize {
  readonly kind: 'rgb';
  readonly pixels: Uint8ClampedArray | Uint8Array;
  /** Which of the four bytes is red; blue is the other of 0 and 2. */
  readonly redAt: 0 | 2;
}

/** Luma for each pixel and two colour differences for blocks of pixels, as cameras and decoders give them. */
export interface YuvPicture extends PictureSize {
  readonly kind: 'yuv';
  readonly pixels: Uint8Array;
  readonly luma: Plane;
  readonly blueDifference: Plane;
  readonly redDifference: Plane;
  /** Bytes from one colour difference to the next in its row: 1, or 2 where both alternate. */
  readonly chromaStep: 1 | 2;
  /** Pixels across and down that share one colour difference: 1 or 2. */
  readonly across: 1 | 2;
  readonly down: 1 | 2;
  readonly colours: YuvColours;
}

/** A picture as numbers. */
export type PixelPicture = RgbPicture | YuvPicture;

/** The picture in a mirror. Nothing is copied. */
export function inMirror<P extends PixelPicture>(picture: P): P {
  return { ...picture, isMirrored: picture.isMirrored !== true };
}

/** How luma and colour differences become red, green and blue. */
export interface YuvColours {
  /** Luma of black, and what one step of luma is in steps of colour. */
  readonly black: number;
  readonly lumaScale: number;
  /** What one step of a colour difference adds to each colour. */
  readonly redPerRed: number;
  readonly greenPerRed: number;
  readonly greenPerBlue: number;
  readonly bluePerBlue: number;
}

/** Shares of red and blue in luma. Source: ITU-R BT.601-7 and BT.709-6, luma equations; BT.2020-2, table 4. */
const LUMA_SHARES = {
  bt601: { red: 0.299, blue: 0.114 },
  bt709: { red: 0.2126, blue: 0.0722 },
  bt2020: { red: 0.2627, blue: 0.0593 },
} as const;

/** Luma equation of a picture. */
export type LumaEquation = keyof typeof LUMA_SHARES;

/**
 * The conversion for a luma equation; `isFullRange` where luma uses all of 0 to 255 instead of 16 to 235.
 * Source of ranges: ITU-R BT.601-7, quantisation of 8 bits: luma 16 to 235, colour differences 16 to 240 about 128.
 */
export function yuvColours(equation: LumaEquation, isFullRange: boolean): YuvColours {
  const { red, blue } = LUMA_SHARES[equation];
  const green = 1 - red - blue;
  const chromaScale = isFullRange ? 1 : 255 / 224;
  const redPerRed = 2 * (1 - red) * chromaScale;
  const bluePerBlue = 2 * (1 - blue) * chromaScale;
  return {
    black: isFullRange ? 0 : 16,
    lumaScale: isFullRange ? 1 : 255 / 219,
    redPerRed,
    greenPerRed: (-redPerRed * red) / green,
    greenPerBlue: (-bluePerBlue * blue) / green,
    bluePerBlue,
  };
}
