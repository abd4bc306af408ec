import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { build } from 'vite';
import { BROWSER_ARGUMENTS } from '../../demo-clips/generator/film-clips.ts';
import { launchBrowser } from '../browser.mjs';
import { serveFolder } from '../static-server.mjs';

const ROOT = join(import.meta.dirname, '..', '..');
const OUT = join(ROOT, '.cache', 'yardstick-page');
const MODELS = join(ROOT, 'models', 'files');

/** A page that draws and looks, in a browser of its own: software drawing then has a process of its own. */
export interface OpenedPage {
  readonly page: Page;
  close(): Promise<void>;
}

/** Where such pages are opened. */
export interface YardstickPages {
  openPage(): Promise<OpenedPage>;
  close(): Promise<void>;
}

/**
 * Builds the page as the app is built and serves it with the model files. executablePath: the Chromium to draw with.
 * What it gives rejects when the browser does not start or the networks do not load.
 */
export async function servePages(executablePath: string): Promise<YardstickPages> {
  await build({
    root: import.meta.dirname,
    configFile: false,
    logLevel: 'warn',
    worker: { format: 'es' },
    build: {
      target: 'es2023',
      outDir: OUT,
      emptyOutDir: true,
      chunkSizeWarningLimit: 2000,
      rollupOptions: { input: { page: join(import.meta.dirname, 'page.html') } },
    },
  });
  const files = new Map(readdirSync(MODELS).map((name) => [`/models/${name}`, join(MODELS, name)]));
  const server = await serveFolder(OUT, { files });
  return {
    async openPage() {
      const browser = await launchBrowser(executablePath, BROWSER_ARGUMENTS);
      try {
        return { page: await readyPage(browser, server.url), close: () => browser.close() };
      } catch (error) {
        await browser.close();
        throw error;
      }
    },
    close: () => server.close(),
  };
}

async function readyPage(browser: Browser, url: string): Promise<Page> {
  const page = await browser.newPage();
  page.setDefaultTimeout(0);
  await page.goto(`${url}page.html`);
  await page.waitForFunction(() => 'yardstickPage' in window);
  await page.evaluate(() => window.yardstickPage.open());
  return page;
}
