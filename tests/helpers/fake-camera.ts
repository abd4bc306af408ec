import { createWriteStream } from 'node:fs';
import { once } from 'node:events';
import { openSourceBrowser } from './source-browser.ts';

/** Chromium plays a motion-JPEG file at this rate. Source: its file_video_capture_device.cc, from memory. */
const FAKE_CAMERA_HZ = 30;

/** Switches with which Chromium takes a motion-JPEG file for its only camera and grants its use. */
export function fakeCameraArgs(mjpegPath: string): string[] {
  return [
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    `--use-file-for-fake-video-capture=${mjpegPath}`,
  ];
}

/**
 * Writes a clip as a motion-JPEG file for the fake camera, at 30 pictures a second, encoded by the browser itself. The
 * camera starts the file again at its end. isNumbered: with the strip of frame-strip.ts. Returns the length of one pass in seconds.
 */
export async function writeFakeCamera(
  clipPath: string,
  mjpegPath: string,
  isNumbered = false,
): Promise<number> {
  const source = await openSourceBrowser();
  try {
    const page = await source.openPage('/tests/helpers/clip-pictures.ts');
    const file = createWriteStream(mjpegPath);
    await page.exposeFunction('takeJpeg', async (base64: string) => {
      if (!file.write(Buffer.from(base64, 'base64'))) await once(file, 'drain');
    });
    await page.route('**/the-clip', (route) => route.fulfill({ path: clipPath, contentType: 'video/mp4' }));
    const count = await page.evaluate(
      ([rateHz, numbered]) => window.jpegPictures('/the-clip', rateHz, numbered),
      [FAKE_CAMERA_HZ, isNumbered] as const,
    );
    file.end();
    await once(file, 'finish');
    return count / FAKE_CAMERA_HZ;
  } finally {
    await source.close();
  }
}
