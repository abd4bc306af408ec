import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../../scripts/bootstrap.mjs';
import { axeFindings } from '../../browser/axe-findings.ts';
import { openApp, type OpenApp } from '../../browser/ui-begin-live/open-app.ts';
import {
  announcementsOf,
  faultsOf,
  hearAnnouncements,
  lineOf,
  readScreen,
  type ReadThing,
} from '../../helpers/screen-reading.ts';
import { walkCurlSession, walkHoldSession, type Look } from '../../helpers/session-walk.ts';

/*
 * A patient's whole session by keyboard alone, from a plan's link to the end of the day with all its questions. Each state is
 * gone through by axe-core in both themes and read once through the accessibility tree. The reading is written to
 * out/session-reading, to be read by people.
 */

const OUT = join(ROOT, 'out/session-reading');
let app: OpenApp;

beforeAll(async () => {
  app = await openApp(['--use-fake-ui-for-media-stream']);
  mkdirSync(OUT, { recursive: true });
});
afterAll(async () => {
  expect(app.foreignRequests()).toEqual([]);
  expect(app.policyViolations()).toEqual([]);
  await app.close();
});

/** What was found at each state. */
interface Found {
  readonly readings: Map<string, readonly ReadThing[]>;
  /** What axe-core found, and what is wrong with the reading, each with its state. */
  readonly faults: string[];
}

function lookerOf(page: Page, { readings, faults }: Found): Look {
  return async ({ name, keep }) => {
    await keep();
    const things = await readScreen(page);
    readings.set(name, things);
    faults.push(...faultsOf(things).map((fault) => `${name}: ${fault}`));
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      await page.locator(`html[data-theme=${colorScheme}]`).waitFor();
      await keep();
      // Colours change over a moment; what is judged is what stays.
      await page.waitForTimeout(200);
      const found = await axeFindings(page);
      faults.push(...found.map((finding) => `${name}, ${colorScheme}: ${finding}`));
    }
  };
}

async function walked(
  walk: typeof walkHoldSession,
  file: string,
): Promise<Found & { announced: readonly string[] }> {
  const { page, context } = await app.openPage({ viewport: { width: 1280, height: 720 } });
  const found: Found = { readings: new Map(), faults: [] };
  await hearAnnouncements(page);
  await walk(page, app.url, lookerOf(page, found));
  const announced = await announcementsOf(page);
  const told = [...found.readings].map(([name, things]) => `== ${name}\n${things.map(lineOf).join('\n')}`);
  const text = [...told, `== announced\n${announced.join('\n')}`, `== faults\n${found.faults.join('\n')}`];
  writeFileSync(join(OUT, file), `${text.join('\n\n')}\n`);
  await context.close();
  return { ...found, announced };
}

const headings = (things: readonly ReadThing[] | undefined): readonly string[] =>
  (things ?? []).filter(({ role }) => role === 'heading').map(lineOf);

const focusedOf = (things: readonly ReadThing[] | undefined): string =>
  (things ?? [])
    .filter(({ states }) => states.includes('focused'))
    .map(lineOf)
    .join();

describe('A whole session by keyboard alone', () => {
  it('of a hold: no finding of axe-core, nothing without a name or read twice, and what happens is announced', async () => {
    const { readings, faults, announced } = await walked(walkHoldSession, 'hold.txt');
    expect(faults).toEqual([]);
    for (const [name, things] of readings)
      expect(
        headings(things).filter((line) => line.startsWith('heading 1')),
        name,
      ).toHaveLength(1);
    expect(headings(readings.get('right-angle'))[1]).toMatch(/^heading 2 "Step 3 of 5: /);
    expect(announced.indexOf('Watch first')).toBeGreaterThanOrEqual(0);
    for (const words of ['Step into view', 'Pull lightly', 'Go', 'In range', 'Paused'])
      expect(announced, words).toContain(words);
    expect(announced).toContain('Rest is over. Begin when you are ready.');
    expect(announced).toContain('Not measured. Nobody is in the picture. Step into view of the camera.');
    // What comes in another one's place has the focus: nobody who hears the screen is left behind.
    for (const [name, heading] of [
      ['prepare-bar', 'Isometric hold, right arm'],
      ['pain', 'Pain now?'],
      ['offers', 'Pain 5, allowed 1'],
      ['effort', 'How hard was it?'],
      ['rest', 'Set 2 of 2: 15 s'],
      ['shown-again', 'The exercise once more'],
      ['pain-at-end', 'Pain at the end?'],
      ['over', 'Today’s session is over'],
    ] as const)
      expect(focusedOf(readings.get(name)), name).toBe(`heading 2 "${heading}" (focused)`);
  }, 300_000);

  it('of a band curl: the light-tension test, the repetitions and their question likewise', async () => {
    const { readings, faults } = await walked(walkCurlSession, 'curl.txt');
    expect(faults).toEqual([]);
    expect(focusedOf(readings.get('hardest'))).toBe('heading 2 "Where was it hardest?" (focused)');
  }, 300_000);
});
