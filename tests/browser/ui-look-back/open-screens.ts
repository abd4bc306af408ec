import { basename } from 'node:path';
import type { Browser } from 'playwright-core';
import { createServer } from 'vite';
import { findBrowser, launchBrowser } from '../../../scripts/browser.mjs';
import { SCREEN_LIBRARIES } from '../../helpers/prepared-libraries.ts';

/** The page of a folder of browser tests in a real browser, as vite serves it. */
export interface OpenScreens {
  readonly browser: Browser;
  /** The address of the folder's page. */
  readonly url: string;
  close(): Promise<void>;
}

/**
 * Starts vite's server on a free port and the browser.
 * @param folder - the folder with page.html and in-page.ts, from the repository's top
 * @param mode - production where time counts: what only development checks costs several times as much
 */
export async function openScreens(
  folder = 'tests/browser/ui-look-back',
  mode: 'development' | 'production' = 'development',
): Promise<OpenScreens> {
  const executablePath = findBrowser();
  if (executablePath === null) throw new Error('This test needs Chrome, Chromium or Edge.');
  const server = await createServer({
    // Its own folder for what vite prepares: several servers may run at once.
    cacheDir: `.cache/vite-${basename(folder)}-${String(process.pid)}`,
    mode,
    server: { port: 0, host: '127.0.0.1', hmr: false, ws: false, watch: null },
    optimizeDeps: { noDiscovery: true, include: [...SCREEN_LIBRARIES] },
    logLevel: 'error',
  });
  await server.listen();
  const address = server.httpServer?.address();
  if (address === null || address === undefined || typeof address === 'string') throw new Error('no port');
  const browser = await launchBrowser(executablePath, []);
  return {
    browser,
    url: `http://127.0.0.1:${String(address.port)}/${folder}/page.html`,
    async close() {
      await browser.close();
      await server.close();
    },
  };
}
