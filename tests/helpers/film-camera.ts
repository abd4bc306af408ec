import type { Page } from 'playwright-core';

/** What stands before the camera: a stretch of the clip in seconds, an empty room, or nothing at all: no picture comes. */
export type Film = readonly [fromSeconds: number, toSeconds: number] | 'empty' | 'none';

declare global {
  interface Window {
    /** Puts this before the camera from now on; a stretch again and again. */
    showFilm?: (film: Film) => void;
  }
}

/** Puts a clip of the app's own address in the place of every camera; the test says what of it is seen. */
export async function filmBeforeCamera(page: Page, clipPath: string, first: Film = [0, 1]): Promise<void> {
  // What runs scripts names functions by a helper of its own, which the page does not have.
  await page.addInitScript('window.__name = (named) => named;');
  await page.addInitScript(
    ([path, begin]) => {
      let film = begin;
      let count = 0;
      const video = document.createElement('video');
      const canvas = document.createElement('canvas');
      Object.assign(canvas, { width: 640, height: 480 });
      window.showFilm = (next) => {
        film = next;
        if (typeof film !== 'string') video.currentTime = film[0];
        void video.play();
      };
      const draw = (): void => {
        const pen = canvas.getContext('2d');
        const [from, to] = typeof film === 'string' ? [0, 1] : film;
        if (pen !== null && film === 'empty') {
          // The wall is never quite the same: equal pictures would not be given on.
          pen.fillStyle = `rgb(130 130 ${String(130 + (count++ % 2))})`;
          pen.fillRect(0, 0, 640, 480);
        } else if (film !== 'none') pen?.drawImage(video, 0, 0);
        if (video.currentTime >= to || video.ended) {
          video.currentTime = from;
          void video.play();
        }
        video.requestVideoFrameCallback(draw);
      };
      navigator.mediaDevices.getUserMedia = async () => {
        const clip = await (await fetch(path)).blob();
        video.muted = true;
        video.src = URL.createObjectURL(clip);
        video.requestVideoFrameCallback(draw);
        window.showFilm?.(film);
        return canvas.captureStream(30);
      };
    },
    [clipPath, first] as const,
  );
}

/** Lets the camera see something else. */
export async function film(page: Page, next: Film): Promise<void> {
  await page.evaluate((shown) => window.showFilm?.(shown), next);
}
