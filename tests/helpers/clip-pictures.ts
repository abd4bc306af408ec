import { ALL_FORMATS, BlobSource, CanvasSink, Input } from 'mediabunny';

declare global {
  interface Window {
    /** Set by this module in the page. */
    jpegPictures: (clipUrl: string, rateHz: number) => Promise<number>;
    /** Put there by the test: takes one JPEG as base64. */
    takeJpeg: (base64: string) => Promise<void>;
  }
}

/** Hands over a clip's pictures as JPEG at a steady rate, each held until the next; returns how many. */
window.jpegPictures = async (clipUrl, rateHz) => {
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
    await window.takeJpeg(await jpegOf(wrapped.canvas));
    given += 1;
  }
  return given;
};

async function jpegOf(canvas: HTMLCanvasElement | OffscreenCanvas): Promise<string> {
  const blob = await (canvas instanceof OffscreenCanvas
    ? canvas.convertToBlob({ type: 'image/jpeg', quality: 0.92 })
    : new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.92)));
  if (blob === null) throw new Error('no picture');
  let text = '';
  for (const byte of new Uint8Array(await blob.arrayBuffer())) text += String.fromCharCode(byte);
  return btoa(text);
}
