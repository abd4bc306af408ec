import type { RgbPicture } from '../../core/pose/network/pixel-picture.ts';

/** Any canvas that was made to be read. */
type Readable2D = Pick<OffscreenCanvasRenderingContext2D, 'getImageData'>;

/** What stands on a canvas of this size, as numbers. */
export function drawnPixels(context: Readable2D, width: number, height: number): RgbPicture {
  const pixels = context.getImageData(0, 0, width, height).data;
  return { kind: 'rgb', redAt: 0, pixels, columns: width, rows: height, widthPx: width, heightPx: height };
}
