import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { killRuns, stillReadable, type KillRun } from '../../browser/storage/kill-runs.ts';
import { StorageBrowser } from '../../browser/storage/storage-browser.ts';

/** The short form of `npm run kill-campaign`. */
const TIMES = 6;

describe('a recording that is killed at a random moment', () => {
  let browser: StorageBrowser;
  const runs: KillRun[] = [];

  beforeAll(async () => {
    browser = await StorageBrowser.open();
    for await (const run of killRuns(browser, TIMES, 11)) runs.push(run);
  });
  afterAll(() => browser.close());

  it('loses at most two seconds', () => {
    expect(runs).toHaveLength(TIMES);
    expect(Math.max(...runs.map(({ lostSeconds }) => lostSeconds))).toBeLessThanOrEqual(2);
  });

  it('is offered as unfinished, readable, and judged as it would be again', () => {
    expect(runs.map(({ problem }) => problem)).toEqual(runs.map(() => null));
    expect(runs.flatMap(({ kept }) => kept.sets).length).toBeGreaterThan(TIMES / 2);
  });

  it('stays readable when it was ended later and others were killed after it', async () => {
    expect(await stillReadable(browser, runs)).toEqual([]);
  });
});
