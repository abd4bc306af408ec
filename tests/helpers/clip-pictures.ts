import { ALL_FORMATS, BlobSource, CanvasSink, Input } from 'mediabunny';
import { drawFrameStrip } from './frame-strip.ts';

declare global {
  interface Window {
    /** Set by this module in the page. */
    jpegPictures: (clipUrl: string, rateHz: number, isNumbered: boolean) => Promise<number>;
    /** Put there by the test: takes one JPEG as base64. */
    takeJpeg: (base64: string) => Promise<void>;
  }
}

/** Hands over a clip's pictures as JPEG at a steady rate, each held until the next, with its number on it where wished; returns how many. */
window.jpegPictures = async (clipUrl, rateHz, isNumbered) => {
  const blob = await (await fetch(clipUrl)).blob();
  const input = new Input({ formats: ALL_FORMATS, source: new BlobSource(blob) });
  const track = await input.getPrimaryVideoTrack();
  if (track === null) throw new Error('no video');
  const start = await track.getFirstTimestamp();
  const count = Math.floor(((await track.computeDuration()) - start) * rateHz);
  const times = Array.from({ length: count }, (_, index) => start + (index + 0.5) / rateHz);
  let given = 0;
  for await (const wrapped of new CanvasSink(track, { poolSize: 1 }).canvasesAtTimestamps(times)) {
    if (wrapped === null) continue;
    const { canvas } = wrapped;
    if (isNumbered) number(canvas, given);
    await window.takeJpeg(await jpegOf(canvas));
    given += 1;
  }
  return given;
};

function number(canvas: HTMLCanvasElement | OffscreenCanvas, given: number): void {
  const context = canvas instanceof OffscreenCanvas ? canvas.getContext('2d') : canvas.getContext('2d');
  if (context !== null) drawFrameStrip(context, given, canvas.width, canvas.height);
}

async function jpegOf(canvas: HTMLCanvasElement | OffscreenCanvas): Promise<string> {
  const blob = await (canvas instanceof OffscreenCanvas
    ? canvas.convertToBlob({ type: 'image/jpeg', quality: 0.92 })
    : new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.92)));
  if (blob === null) throw new Error('no picture');
  let text = '';
  for (const byte of new Uint8Array(await blob.arrayBuffer())) text += String.fromCharCode(byte);
  return btoa(text);
}
