import type { Picture } from '../../core/pose/pose-estimator.ts';

/** Size of a picture in its own pixels. */
export function pictureSize(picture: Picture): { readonly widthPx: number; readonly heightPx: number } {
  return picture instanceof HTMLVideoElement
    ? { widthPx: picture.videoWidth, heightPx: picture.videoHeight }
    : { widthPx: picture.width, heightPx: picture.height };
}
