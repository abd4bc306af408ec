import type { VideoSample } from 'mediabunny';
import type { PixelPicture } from '../../core/pose/network/pixel-picture.ts';
import type { PixelReader } from '../../core/pose/pose-estimator.ts';
import { drawnPixels } from './drawn-pixels.ts';

/** Widest picture to look at, pixels. */
const SHOWN_WIDTH_PX = 640;

/** Reads a clip's pictures upright and in one size, as the file says they are to be shown. The samples stay the caller's. */
export class UprightPicture {
  readonly #size: { readonly width: number; readonly height: number };
  readonly #reader: PixelReader;
  readonly #context: OffscreenCanvasRenderingContext2D | null;

  /** Takes the size in which landmarks are given. The reader is this object's alone: its buffer is used again. */
  constructor(size: { readonly width: number; readonly height: number }, reader: PixelReader) {
    this.#size = size;
    this.#reader = reader;
    this.#context = new OffscreenCanvas(size.width, size.height).getContext('2d', {
      alpha: false,
      willReadFrequently: true,
    });
  }

  /** Valid until the next picture is read. */
  async pixels(sample: VideoSample): Promise<PixelPicture> {
    const { width, height } = this.#size;
    if (isTurned(sample)) return drawnPixels(this.#drawn(sample), width, height);
    const frame = sample.toVideoFrame();
    try {
      return { ...(await this.#reader.read(frame)), widthPx: width, heightPx: height };
    } finally {
      frame.close();
    }
  }

  /** A small copy to be looked at; whoever takes it closes it. */
  async toLookAt(sample: VideoSample): Promise<ImageBitmap> {
    const scale = Math.min(1, SHOWN_WIDTH_PX / this.#size.width);
    const small = {
      resizeWidth: Math.round(this.#size.width * scale),
      resizeHeight: Math.max(1, Math.round(this.#size.height * scale)),
    };
    if (isTurned(sample)) return createImageBitmap(this.#drawn(sample).canvas, small);
    const frame = sample.toVideoFrame();
    try {
      return await createImageBitmap(frame, small);
    } finally {
      frame.close();
    }
  }

  #drawn(sample: VideoSample): OffscreenCanvasRenderingContext2D {
    if (this.#context === null) throw new Error('UprightPicture: no 2D canvas.');
    sample.draw(this.#context, 0, 0, this.#size.width, this.#size.height);
    return this.#context;
  }
}

function isTurned({ rotation, flip }: VideoSample): boolean {
  return rotation !== 0 || flip;
}
