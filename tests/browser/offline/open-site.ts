import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { ensureBuilt, ROOT } from '../../../scripts/bootstrap.mjs';
import { findBrowser, launchBrowser } from '../../../scripts/browser.mjs';
import { serveFolder } from '../../../scripts/static-server.mjs';

/** The built app, copied so that a test may damage or replace it, served so that a test may pull the plug. */
export interface Site {
  readonly url: string;
  /** What is served. */
  readonly folder: string;
  readonly browser: Browser;
  /** Ends the server; what is under way breaks off. */
  disconnect(): Promise<void>;
  /** Serves the folder under the same address again. */
  reconnect(): Promise<void>;
  close(): Promise<void>;
}

/** Copies and serves the build, and starts the browser with further switches. */
export async function openSite(args: readonly string[] = []): Promise<Site> {
  const executablePath = findBrowser();
  if (executablePath === null) throw new Error('This test needs Chrome, Chromium or Edge.');
  ensureBuilt();
  const folder = mkdtempSync(join(tmpdir(), 'forearmed-site-'));
  cpSync(join(ROOT, 'dist'), folder, { recursive: true });
  let server: Awaited<ReturnType<typeof serveFolder>> | null = await serveFolder(folder);
  const { url } = server;
  const browser = await launchBrowser(executablePath, args);
  const disconnect = async (): Promise<void> => {
    await server?.close();
    server = null;
  };
  return {
    url,
    folder,
    browser,
    disconnect,
    async reconnect() {
      server = await serveFolder(folder, { port: Number(new URL(url).port) });
      if (server.url !== url) throw new Error('The port was taken by somebody else.');
    },
    async close() {
      await browser.close();
      await disconnect();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Opens the app and waits for its first screen. */
export async function visit(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.getByRole('heading', { level: 1 }).waitFor();
}

/** Waits until the app is kept: a worker is active and controls the page. */
export async function untilKept(page: Page): Promise<void> {
  await page.waitForFunction(() => navigator.serviceWorker.controller?.state === 'activated');
}

/** Names of the model files that are kept, sorted. */
export function keptModels(page: Page): Promise<string[]> {
  return page.evaluate(async () => {
    const kept = await (await caches.open('models')).keys();
    return kept.map(({ url }) => new URL(url).pathname.replace('/models/', '')).sort();
  });
}

/** Waits until so many model files are kept. */
export async function untilModelsKept(page: Page, count: number): Promise<void> {
  const until = Date.now() + 60_000;
  while ((await keptModels(page)).length < count) {
    if (Date.now() > until) throw new Error(`Only ${(await keptModels(page)).join(', ')} are kept.`);
    await page.waitForTimeout(100);
  }
}
