import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { costSet, CURLING } from '../../../scripts/cost/cost-set.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { measureAndJudge } from '../../../src/core/session/build-session.ts';
import type { SetFindings } from '../../../src/core/session/session-record.ts';
import { openScreens, type OpenScreens } from '../../browser/ui-look-back/open-screens.ts';
import type { Watched } from './in-page.ts';

/** A task longer than this is felt as a halt, milliseconds (W3C Long Tasks API). */
const LONG_TASK_MS = 50;
/** The time between two pictures of a screen at 60 a second, milliseconds. */
const SCREEN_FRAME_MS = 16.7;

let screens: OpenScreens;
let page: Page;

const nodeFindings = (minutes: number): SetFindings =>
  measureAndJudge(costSet(CURLING, 60 * minutes), CURLING, DEFAULT_THRESHOLDS).findings;

async function prepare(minutes: number): Promise<void> {
  await page.evaluate(([settings, long]) => window.judgingPage.prepare(settings, long), [
    CURLING,
    minutes,
  ] as const);
}

function report(what: string, { longestTaskMs, longestGapMs, seconds }: Watched<unknown>): void {
  const figures = [longestTaskMs, longestGapMs].map((ms) => `${ms.toFixed(0)} ms`);
  console.log(`${what}: ${seconds.toFixed(1)} s, longest task ${figures.join(', longest gap ')}`);
}

beforeAll(async () => {
  // Read by the compiler of the screens: what is timed is what is shipped.
  process.env['NODE_ENV'] = 'production';
  screens = await openScreens('tests/campaign/judging', 'production');
  page = await screens.browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(screens.url);
  await page.waitForFunction(() => 'judgingPage' in window);
});

afterAll(async () => {
  await screens.close();
});

describe('a worker that is killed', () => {
  test('is followed by another, and the findings are those of Node', async () => {
    await prepare(1);
    const before = await page.evaluate(() => window.judgingPage.startedWorkers());
    const judged = await page.evaluate(() => window.judgingPage.judge(60));
    const after = await page.evaluate(() => window.judgingPage.startedWorkers());
    expect(judged.result).toEqual(nodeFindings(1));
    expect(after - before).toBe(2);
  });

  test('and every one after it leave the work to the page', async () => {
    await prepare(1);
    expect(await page.evaluate(() => window.judgingPage.judgeWithoutWorkers())).toEqual(nodeFindings(1));
  });
});

describe('a set of ten minutes at thirty pictures a second', () => {
  beforeAll(() => prepare(10));

  test('is recorded and judged without a long task', async () => {
    const recorded = await page.evaluate(() => window.judgingPage.record());
    report('recording and judging', recorded);
    expect(recorded.result).toEqual(nodeFindings(10));
    expect(recorded.longestTaskMs).toBeLessThan(LONG_TASK_MS);
  });

  test('is opened in Look back without a long task, and its cursor follows the pointer', async () => {
    const opened = await page.evaluate(() => window.judgingPage.lookBack('database'));
    report('opening Look back', opened);
    expect(opened.longestTaskMs).toBeLessThan(LONG_TASK_MS);
    const dragged = await page.evaluate(() => window.judgingPage.drag(60));
    report(`dragging, longest step ${dragged.result.toFixed(1)} ms`, dragged);
    expect(dragged.result).toBeLessThan(SCREEN_FRAME_MS);
  });
});
