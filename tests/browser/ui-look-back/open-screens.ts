import type { Browser } from 'playwright-core';
import { createServer } from 'vite';
import { findBrowser, launchBrowser } from '../../../scripts/browser.mjs';

/** The two screens of this folder in a real browser, as vite serves them. */
export interface OpenScreens {
  readonly browser: Browser;
  /** The address of the page that has `window.lookBackPage`. */
  readonly url: string;
  close(): Promise<void>;
}

/** Starts vite's server on a free port and the browser. */
export async function openScreens(): Promise<OpenScreens> {
  const executablePath = findBrowser();
  if (executablePath === null) throw new Error('This test needs Chrome, Chromium or Edge.');
  const server = await createServer({
    // Its own folder for what vite prepares: several servers may run at once.
    cacheDir: `.cache/vite-look-back-${String(process.pid)}`,
    server: { port: 0, host: '127.0.0.1', hmr: false, ws: false, watch: null },
    optimizeDeps: { entries: ['tests/browser/ui-look-back/in-page.ts'] },
    logLevel: 'error',
  });
  await server.listen();
  const address = server.httpServer?.address();
  if (address === null || address === undefined || typeof address === 'string') throw new Error('no port');
  const browser = await launchBrowser(executablePath, []);
  return {
    browser,
    url: `http://127.0.0.1:${String(address.port)}/tests/browser/ui-look-back/page.html`,
    async close() {
      await browser.close();
      await server.close();
    },
  };
}
