import { fileURLToPath } from 'node:url';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { createServer } from 'vite';
import type { PhantomPage } from './render/page.ts';

/** Starts a browser with the given switches. */
export type LaunchBrowser = (args: readonly string[]) => Promise<Browser>;

/** Software drawing, so that a machine without a graphics card makes the same pictures; no background traffic. */
export const BROWSER_ARGUMENTS: readonly string[] = [
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/**
 * Draws clips in headless Chromium, two at a time, and hands each over as an MP4 file.
 * @throws Error when the browser does not start or a page fails; the message names the clip.
 */
export async function filmClips(
  names: readonly string[],
  launch: LaunchBrowser,
  onFilm: (name: string, file: Buffer) => Promise<void>,
  onProgress: (name: string, framesDone: number) => void,
): Promise<void> {
  const server = await createServer({
    configFile: false,
    root: fileURLToPath(new URL('.', import.meta.url)),
    cacheDir: join(tmpdir(), 'demo-clips-vite'),
    logLevel: 'error',
    server: { host: '127.0.0.1', port: 0, hmr: false, watch: null },
    optimizeDeps: { include: ['three', 'mediabunny'] },
  });
  try {
    await server.listen();
    const address = server.resolvedUrls?.local[0];
    if (address === undefined) throw new Error('The local server for the drawing page did not start.');
    const waiting = [...names];
    const worker = async (): Promise<void> => {
      for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) {
        const clip = name;
        const file = await filmOne(clip, address, launch, (done) => {
          onProgress(clip, done);
        });
        await onFilm(clip, file);
      }
    };
    await Promise.all([worker(), worker()]);
  } finally {
    await server.close();
  }
}

/** A browser of its own for each clip: software drawing then uses one process each. */
async function filmOne(
  name: string,
  address: string,
  launch: LaunchBrowser,
  onProgress: (framesDone: number) => void,
): Promise<Buffer> {
  const browser = await launch(BROWSER_ARGUMENTS);
  try {
    const page = await browser.newPage();
    page.setDefaultTimeout(0);
    await page.goto(new URL('render/index.html', address).href);
    await page.waitForFunction(() => 'phantomPage' in window);
    const timer = setInterval(() => {
      page.evaluate(() => window.phantomPage.framesDone).then(onProgress, () => undefined);
    }, 5000);
    try {
      const film: PhantomPage['film'] = (clip) =>
        page.evaluate((wanted) => window.phantomPage.film(wanted), clip);
      return Buffer.from(await film(name), 'base64');
    } finally {
      clearInterval(timer);
    }
  } catch (error) {
    throw new Error(`The clip ${name} could not be drawn.`, { cause: error });
  } finally {
    await browser.close();
  }
}
