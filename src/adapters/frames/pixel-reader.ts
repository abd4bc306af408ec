import type { PixelPicture, PixelReader, PixelSource } from '../../core/pose/pose-estimator.ts';
import { fitSize } from './fit-size.ts';

/** Newer members of a video frame that TypeScript's library lacks. */
declare global {
  interface VideoFrame {
    /** How the picture must be turned to stand upright, degrees. */
    readonly rotation?: number;
    readonly flip?: boolean;
    /** captureTime: on the clock of the global it is asked in, milliseconds. */
    metadata?(): { readonly captureTime?: number };
  }
}

/**
 * Video frames give their numbers straight away where the browser can; else they are drawn first. Works in workers.
 */
export function pixelReader(): PixelReader {
  let buffer = new Uint8Array(0);
  let canDirectly = true;
  const drawn = drawingReader();

  const direct = async (frame: VideoFrame): Promise<PixelPicture | null> => {
    const { visibleRect } = frame;
    if (visibleRect === null) return null;
    const { width: columns, height: rows } = visibleRect;
    const bytes = columns * rows * 4;
    if (buffer.length !== bytes) buffer = new Uint8Array(bytes);
    try {
      await frame.copyTo(buffer, {
        format: 'RGBA',
        colorSpace: 'srgb',
        layout: [{ offset: 0, stride: columns * 4 }],
      });
    } catch {
      return null;
    }
    const { width, height } = fitSize(frame.displayWidth, frame.displayHeight);
    return { pixels: buffer, columns, rows, widthPx: width, heightPx: height };
  };

  return {
    async read(from) {
      const isUpright = from instanceof VideoFrame && (from.rotation ?? 0) === 0 && from.flip !== true;
      if (canDirectly && isUpright) {
        const picture = await direct(from);
        if (picture !== null) return picture;
        // A browser that cannot convert one frame cannot convert the next either.
        canDirectly = false;
      }
      return drawn(from);
    },
  };
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
    const { data } = context.getImageData(0, 0, width, height);
    return { pixels: data, columns: width, rows: height, widthPx: width, heightPx: height };
  };
}
