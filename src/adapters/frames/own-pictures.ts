import type { OpenOwnPictures } from '../../core/consult/own-pictures.ts';

/** Kept this long: the other side's picture is late by the line, its hold and the way back. Chosen for this tool. */
const KEPT_MS = 4_000;
/** One in so many milliseconds, and this large at most, so that measuring is not slowed: about 40 MB in all. */
const STEP_MS = 60;
const LONGEST_SIDE_PX = 480;
/** A picture further off than this is another one, milliseconds. */
const NEAR_MS = 150;

/** Keeps small copies of the last seconds of a live stream on the page; nothing of it is stored or sent. */
export const openOwnPictures: OpenOwnPictures = (stream) => {
  const video = document.createElement('video');
  if (!('requestVideoFrameCallback' in video)) return null;
  video.muted = true;
  video.playsInline = true;
  video.srcObject = stream;
  const kept: { readonly atMs: number; readonly canvas: OffscreenCanvas }[] = [];
  let handle = 0;

  const keep = (atMs: number, width: number, height: number): void => {
    const last = kept.at(-1);
    if (last !== undefined && atMs - last.atMs < STEP_MS) return;
    const scale = Math.min(1, LONGEST_SIDE_PX / Math.max(width, height));
    const size = { width: Math.round(width * scale), height: Math.round(height * scale) };
    // The oldest one's canvas is used again: new ones all the time would have to be cleared away all the time.
    const oldest = kept[0];
    const isSpare = oldest !== undefined && atMs - oldest.atMs > KEPT_MS;
    const canvas =
      (isSpare ? kept.shift()?.canvas : undefined) ?? new OffscreenCanvas(size.width, size.height);
    if (canvas.width !== size.width || canvas.height !== size.height) Object.assign(canvas, size);
    canvas.getContext('2d', { alpha: false })?.drawImage(video, 0, 0, size.width, size.height);
    kept.push({ atMs, canvas });
  };
  const next = (): void => {
    handle = video.requestVideoFrameCallback((_nowMs, { captureTime, presentationTime, width, height }) => {
      keep(captureTime ?? presentationTime, width, height);
      next();
    });
  };
  next();
  // A stream that ends before it plays gives no picture, and none is found.
  void video.play().catch(() => undefined);

  return {
    near(capturedMs) {
      const [nearest] = kept.toSorted(
        (a, b) => Math.abs(a.atMs - capturedMs) - Math.abs(b.atMs - capturedMs),
      );
      if (nearest === undefined || Math.abs(nearest.atMs - capturedMs) > NEAR_MS) return null;
      const { width, height } = nearest.canvas;
      const copy = new OffscreenCanvas(width, height);
      copy.getContext('2d', { alpha: false })?.drawImage(nearest.canvas, 0, 0);
      return { image: copy, offMs: nearest.atMs - capturedMs };
    },
    close() {
      video.cancelVideoFrameCallback(handle);
      video.srcObject = null;
      kept.length = 0;
    },
  };
};
