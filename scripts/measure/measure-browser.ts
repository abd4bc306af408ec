import type { Browser, Page } from 'playwright-core';
import type { ClipFacts, MeasureJob, MeasureOutcome } from '../../src/measure-page.ts';
import { launchBrowser } from '../browser.mjs';

/** One page of the browser, which may measure several clips at a time. */
export interface MeasureTab {
  readHeader(url: string): Promise<ClipFacts>;
  /** Rejects when the page broke down; another tab can still be opened then. */
  measure(job: MeasureJob, onProgress: (share: number) => void): Promise<MeasureOutcome>;
  close(): Promise<void>;
}

/** A browser without a window on the measuring page. */
export interface MeasureBrowser {
  openTab(): Promise<MeasureTab>;
  close(): Promise<void>;
}

/** Starts the browser; tabs open `pageUrl`. */
export async function startMeasureBrowser(executablePath: string, pageUrl: string): Promise<MeasureBrowser> {
  const browser = await launchBrowser(executablePath);
  return { openTab: () => openTab(browser, pageUrl), close: () => browser.close() };
}

async function openTab(browser: Browser, pageUrl: string): Promise<MeasureTab> {
  const page = await browser.newPage();
  const listeners = new Map<string, (share: number) => void>();
  await page.exposeFunction('reportProgress', (url: string, share: number) => listeners.get(url)?.(share));
  await page.goto(pageUrl);
  await page.waitForFunction(() => window.measurePage !== undefined);
  const gone = whenGone(page);
  return {
    readHeader: (url) => Promise.race([page.evaluate(readHeaderInPage, url), gone]),
    measure(job, report) {
      listeners.set(job.url, report);
      return Promise.race([page.evaluate(measureInPage, job), gone]);
    },
    close: () => page.close(),
  };
}

function readHeaderInPage(url: string): Promise<ClipFacts> {
  if (window.measurePage === undefined) throw new Error('The measuring page is not ready.');
  return window.measurePage.readHeader(url);
}

function measureInPage(job: MeasureJob): Promise<MeasureOutcome> {
  if (window.measurePage === undefined) throw new Error('The measuring page is not ready.');
  return window.measurePage.measure(job);
}

/** Rejects when the page crashes (for example for want of memory): its calls would otherwise never end. */
function whenGone(page: Page): Promise<never> {
  const gone = new Promise<never>((_, reject) => {
    page.once('crash', () => reject(new Error('The page crashed.')));
  });
  // Most pages never crash, and then nobody waits for this.
  gone.catch(() => undefined);
  return gone;
}
