import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { build } from 'vite';
import { findBrowser, launchBrowser } from '../browser.mjs';
import { serveFolder } from '../static-server.mjs';

const ROOT = join(import.meta.dirname, '..', '..');
const OUT = join(ROOT, '.cache', 'bench-page');

/** The page on which networks are raced and compared, in a real browser. */
export interface OpenedBench {
  /** Opens the page anew, with nothing loaded. */
  openPage(): Promise<Page>;
  readonly browser: Browser;
  close(): Promise<void>;
}

/**
 * Builds the page as the app is built, and serves it with the model files and the given further files (address to path).
 * `args` are further switches of the browser.
 */
export async function openBench(
  files: ReadonlyMap<string, string>,
  args: readonly string[] = [],
): Promise<OpenedBench> {
  const executablePath = findBrowser();
  if (executablePath === null) throw new Error('No Chrome, Chromium or Edge was found.');
  await build({
    root: join(ROOT, 'scripts', 'bench'),
    configFile: false,
    logLevel: 'warn',
    resolve: {
      alias: { '@mediapipe/pose': join(ROOT, 'src/adapters/estimator/mediapipe-pose-shim.ts') },
    },
    worker: { format: 'es' },
    build: {
      target: 'es2023',
      outDir: OUT,
      emptyOutDir: true,
      rollupOptions: { input: { page: join(ROOT, 'scripts/bench/page.html') } },
    },
  });
  const models = join(ROOT, 'models', 'files');
  const server = await serveFolder(OUT, {
    files: new Map([...files, ...(await modelAddresses(models))]),
  });
  const browser = await launchBrowser(executablePath, args);
  return {
    browser,
    async openPage() {
      const page = await browser.newPage();
      await page.goto(`${server.url}page.html`);
      await page.waitForFunction(() => 'benchPage' in window);
      return page;
    },
    async close() {
      await browser.close();
      await server.close();
    },
  };
}

async function modelAddresses(folder: string): Promise<[string, string][]> {
  return (await readdir(folder)).map((name) => [`/models/${name}`, join(folder, name)]);
}
