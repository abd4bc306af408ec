import {
  inMirror,
  type LumaEquation,
  type PixelPicture,
  yuvColours,
} from '../../core/pose/network/pixel-picture.ts';
import type { PixelReader, PixelSource } from '../../core/pose/pose-estimator.ts';
import type { PictureTile } from '../../core/pose/picture-tile.ts';
import { drawnPixels } from './drawn-pixels.ts';
import { fitSize } from './fit-size.ts';

/** How many pixels share a colour difference, by W3C WebCodecs' names of formats; the others are drawn. */
const YUV_FORMATS: Readonly<Record<string, { readonly across: 1 | 2; readonly down: 1 | 2 }>> = {
  I420: { across: 2, down: 2 },
  I420A: { across: 2, down: 2 },
  NV12: { across: 2, down: 2 },
  I422: { across: 2, down: 1 },
  I444: { across: 1, down: 1 },
};
const RGB_FORMATS: Readonly<Record<string, 0 | 2>> = { RGBA: 0, RGBX: 0, BGRA: 2, BGRX: 2 };

/** Pictures of this many rows and more are in the colours of high definition where they do not say: common practice. */
const HIGH_DEFINITION_ROWS = 720;

/**
 * Reads pictures as camera and decoder give them: their bytes are copied as they are, which costs little and needs nobody
 * else. A conversion by the browser would pass through the page's own thread and wait for it. Pictures in other formats,
 * turned or mirrored ones are drawn first. Works in workers.
 */
export function pixelReader(): PixelReader {
  let buffer = new Uint8Array(0);
  const drawn = drawingReader();

  const direct = async (frame: VideoFrame): Promise<PixelPicture | null> => {
    const { format, visibleRect } = frame;
    const yuv = YUV_FORMATS[format ?? ''];
    const redAt = RGB_FORMATS[format ?? ''];
    if (visibleRect === null || (yuv === undefined && redAt === undefined)) return null;
    const bytes = frame.allocationSize();
    if (buffer.length !== bytes) buffer = new Uint8Array(bytes);
    const [first, second, third] = await frame.copyTo(buffer);
    const { width: columns, height: rows } = visibleRect;
    const { width: widthPx, height: heightPx } = fitSize(frame.displayWidth, frame.displayHeight);
    const size = { pixels: buffer, columns, rows, widthPx, heightPx };
    if (redAt !== undefined)
      return first?.offset === 0 && first.stride === columns * 4 ? { kind: 'rgb', redAt, ...size } : null;
    if (yuv === undefined || first === undefined || second === undefined) return null;
    const colours = yuvColours(equationOf(frame), frame.colorSpace.fullRange === true);
    if (format === 'NV12') {
      const redDifference = { offset: second.offset + 1, stride: second.stride };
      return {
        kind: 'yuv',
        ...size,
        ...yuv,
        luma: first,
        blueDifference: second,
        redDifference,
        chromaStep: 2,
        colours,
      };
    }
    if (third === undefined) return null;
    return {
      kind: 'yuv',
      ...size,
      ...yuv,
      luma: first,
      blueDifference: second,
      redDifference: third,
      chromaStep: 1,
      colours,
    };
  };

  const whole = async (from: PixelSource): Promise<PixelPicture> =>
    (isUpright(from) ? await direct(from) : null) ?? drawn(from);

  return {
    async read(from, tile) {
      if (tile === undefined || tile === null) return whole(from);
      const cut = await cutTile(from, tile);
      try {
        const picture = await whole(cut);
        return tile.isMirrored ? inMirror(picture) : picture;
      } finally {
        cut.close();
      }
    },
  };
}

function isUpright(from: PixelSource): from is VideoFrame {
  return from instanceof VideoFrame && (from.rotation ?? 0) === 0 && from.flip !== true;
}

/** The part of a picture that is a tile, without copying it where the browser can. Whoever takes it closes it. */
async function cutTile(from: PixelSource, tile: PictureTile): Promise<PixelSource> {
  const { leftPx, topPx, widthPx: width, heightPx: height } = tile;
  const visible = isUpright(from) ? from.visibleRect : null;
  const isPlain =
    isUpright(from) && visible?.width === from.displayWidth && visible.height === from.displayHeight;
  if (!isPlain || visible === null) return createImageBitmap(from, leftPx, topPx, width, height);
  return new VideoFrame(from, {
    visibleRect: { x: visible.x + leftPx, y: visible.y + topPx, width, height },
    displayWidth: width,
    displayHeight: height,
  });
}

function equationOf({ colorSpace: { matrix }, codedHeight }: VideoFrame): LumaEquation {
  if (matrix === 'bt709') return 'bt709';
  // Newer than TypeScript's library.
  const name: string | null = matrix;
  if (name === 'bt2020-ncl') return 'bt2020';
  if (matrix !== null) return 'bt601';
  return codedHeight >= HIGH_DEFINITION_ROWS ? 'bt709' : 'bt601';
}

function drawingReader(): (from: PixelSource) => PixelPicture {
  const canvas = new OffscreenCanvas(1, 1);
  const context = canvas.getContext('2d', { alpha: false, willReadFrequently: true });
  return (from) => {
    if (context === null) throw new Error('pixelReader: no 2D canvas.');
    const isFrame = from instanceof VideoFrame;
    const { width, height } = isFrame
      ? fitSize(from.displayWidth, from.displayHeight)
      : fitSize(from.width, from.height);
    if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
    context.drawImage(from, 0, 0, width, height);
    return drawnPixels(context, width, height);
  };
}
