import type { Page } from 'playwright-core';
import type { LivePlayed } from '../browser/pose-worker/in-page.ts';
import type { SourceBrowser } from './source-browser.ts';

/** The page on which cameras are measured in a worker. */
export async function openPoseWorkerPage(browser: SourceBrowser): Promise<Page> {
  const page = await browser.openPage('/tests/browser/pose-worker/in-page.ts');
  await page.waitForFunction(() => 'poseWorkerPage' in window);
  return page;
}

/** Longest stretch between two measured pictures by their own times, seconds. */
export function longestGapSeconds({ seen }: LivePlayed): number {
  const times = seen.map(({ frame }) => frame.timeSeconds);
  return Math.max(0, ...times.slice(1).map((time, index) => time - (times[index] ?? time)));
}
