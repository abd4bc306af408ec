import type { Page } from 'playwright-core';

declare global {
  interface Window {
    /** Gives the shared window another size, as when its call's window is drawn larger. */
    resizeShared?: (width: number, height: number) => void;
    /** Makes the shared window black, as one that is minimised. */
    blackenShared?: () => void;
  }
}

/** Puts a canvas with two tiles from demo clips in the place of every window that is shared: the first left, the second right. */
export async function shareTwoTiles(page: Page, clips: readonly [string, string]): Promise<void> {
  await page.addInitScript('window.__name = (named) => named;');
  await page.addInitScript((paths) => {
    const canvas = document.createElement('canvas');
    Object.assign(canvas, { width: 1280, height: 640 });
    let isBlack = false;
    window.resizeShared = (width, height) => Object.assign(canvas, { width, height });
    window.blackenShared = () => (isBlack = true);
    const playing = async (path: string): Promise<HTMLVideoElement> => {
      const video = document.createElement('video');
      video.muted = true;
      video.loop = true;
      video.src = URL.createObjectURL(await (await fetch(path)).blob());
      video.currentTime = 5;
      await video.play();
      return video;
    };
    navigator.mediaDevices.getDisplayMedia = async () => {
      const videos = await Promise.all(paths.map(playing));
      setInterval(() => {
        const pen = canvas.getContext('2d');
        if (pen === null) return;
        pen.fillStyle = isBlack ? '#000000' : '#303438';
        pen.fillRect(0, 0, canvas.width, canvas.height);
        if (!isBlack) videos.forEach((video, index) => pen.drawImage(video, 640 * index, 80));
      }, 60);
      return canvas.captureStream(30);
    };
  }, clips);
}
