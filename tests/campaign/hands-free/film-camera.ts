import type { Page } from 'playwright-core';

declare global {
  interface Window {
    /** Plays this stretch of the clip before the camera from now on, again and again, seconds. */
    filmFrom?: (fromSeconds: number, toSeconds: number) => void;
  }
}

/** Puts a clip of the app's own address in the place of every camera; the page plays the stretch that the test names. */
export async function filmBeforeCamera(page: Page, clipPath: string): Promise<void> {
  await page.addInitScript((path) => {
    let stretch: readonly [number, number] = [0, 1];
    const video = document.createElement('video');
    const canvas = document.createElement('canvas');
    Object.assign(canvas, { width: 640, height: 480 });
    window.filmFrom = (from, to) => {
      stretch = [from, to];
      video.currentTime = from;
      void video.play();
    };
    const draw = (): void => {
      canvas.getContext('2d')?.drawImage(video, 0, 0);
      if (video.currentTime >= stretch[1] || video.ended) window.filmFrom?.(...stretch);
      video.requestVideoFrameCallback(draw);
    };
    navigator.mediaDevices.getUserMedia = async () => {
      const clip = await (await fetch(path)).blob();
      video.muted = true;
      video.src = URL.createObjectURL(clip);
      video.requestVideoFrameCallback(draw);
      window.filmFrom?.(...stretch);
      return canvas.captureStream(30);
    };
  }, clipPath);
}

/** Lets the camera see a stretch of the clip, again and again, seconds. */
export async function film(page: Page, from: number, to: number): Promise<void> {
  await page.evaluate(([start = 0, end = 0]) => window.filmFrom?.(start, end), [from, to]);
}
