import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { ensureBuilt, ROOT } from '../../../scripts/bootstrap.mjs';
import { findBrowser, launchBrowser } from '../../../scripts/browser.mjs';
import { serveFolder } from '../../../scripts/static-server.mjs';
import { axeFindings as axeFindingsNow } from '../axe-findings.ts';

/** Chromium's own camera: a moving disc, nobody in the picture, and no question asked. */
export const FAKE_CAMERA = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'];

/** The built app in a real browser. */
export interface OpenApp {
  readonly url: string;
  /** A page in a context of its own: nothing kept from another test. Every request it makes is noted. */
  openPage(options?: Parameters<Browser['newContext']>[0]): Promise<{ page: Page; context: BrowserContext }>;
  /** What the browser said of its pages' security policy: whatever it forbade. */
  policyViolations(): readonly string[];
  /** Addresses that were asked for outside the app's own origin. */
  foreignRequests(): readonly string[];
  close(): Promise<void>;
}

/** Serves the build and starts the browser with further switches. */
export async function openApp(args: readonly string[]): Promise<OpenApp> {
  const executablePath = findBrowser();
  if (executablePath === null) throw new Error('This test needs Chrome, Chromium or Edge.');
  ensureBuilt();
  const server = await serveFolder(join(ROOT, 'dist'));
  const browser = await launchBrowser(executablePath, args);
  const foreign: string[] = [];
  const violations: string[] = [];
  return {
    url: server.url,
    async openPage(options) {
      const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
      const page = await context.newPage();
      page.on('request', (request) => {
        const url = request.url();
        if (!url.startsWith(server.url) && !/^(blob|data):/.test(url)) foreign.push(url);
      });
      page.on('console', (message) => {
        if (/content security policy/i.test(message.text())) violations.push(message.text());
      });
      await page.goto(server.url);
      await page.getByRole('heading', { level: 1 }).waitFor();
      return { page, context };
    },
    policyViolations: () => violations,
    foreignRequests: () => foreign,
    async close() {
      await browser.close();
      await server.close();
    },
  };
}

/** What axe-core finds on the page as it stands, in both themes: one line for each rule and place. */
export async function axeFindings(page: Page): Promise<string[]> {
  const found: string[] = [];
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme });
    await page.waitForFunction((theme) => document.documentElement.dataset['theme'] === theme, colorScheme);
    // Colours change over a moment; what is judged is what stays.
    await page.waitForTimeout(300);
    found.push(...(await axeFindingsNow(page)).map((finding) => `${colorScheme}: ${finding}`));
  }
  return found;
}
