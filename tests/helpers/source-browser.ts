import { rmSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { createServer } from 'vite';
import { findBrowser, launchBrowser } from '../../scripts/browser.mjs';
import { ALL_LIBRARIES } from './prepared-libraries.ts';

/** What vite prepares: a folder for each process, because several may run at once; gone with the last. */
const CACHE = `.cache/vite-tests-${String(process.pid)}`;
let openCount = 0;

/** A real browser, and the project's own modules as vite serves them. */
export interface SourceBrowser {
  readonly browser: Browser;
  readonly url: string;
  /** A page that has run a module of the repository, for example '/tests/browser/frames/in-page.ts'. */
  openPage(module: string): Promise<Page>;
  close(): Promise<void>;
}

/** Starts vite's server on a free port and the browser, with further switches where a test needs them. */
export async function openSourceBrowser(args: readonly string[] = []): Promise<SourceBrowser> {
  const executablePath = findBrowser();
  if (executablePath === null) throw new Error('This test needs Chrome, Chromium or Edge.');
  const server = await createServer({
    cacheDir: CACHE,
    server: { port: 0, host: '127.0.0.1', hmr: false, watch: null },
    optimizeDeps: { noDiscovery: true, include: [...ALL_LIBRARIES] },
    logLevel: 'error',
  });
  await server.listen();
  openCount += 1;
  const address = server.httpServer?.address();
  if (address === null || address === undefined || typeof address === 'string') throw new Error('no port');
  const url = `http://localhost:${String(address.port)}/`;
  const browser = await launchBrowser(executablePath, args);
  return {
    browser,
    url,
    async openPage(module) {
      const page = await browser.newPage();
      await page.route(`${url}blank`, (route) =>
        route.fulfill({ contentType: 'text/html', body: '<!doctype html><body>' }),
      );
      await page.goto(`${url}blank`);
      await page.addScriptTag({ url: module, type: 'module' });
      return page;
    },
    async close() {
      await browser.close();
      await server.close();
      openCount -= 1;
      if (openCount === 0) rmSync(CACHE, { recursive: true, force: true });
    },
  };
}
