import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { KIND_WORDS } from '../../../src/ui/loads/equipment-words.ts';
import type { EquipmentKind } from '../../../src/ui/loads/new-equipment.ts';
import { axeFindings } from '../axe-findings.ts';
import { openScreens, type OpenScreens } from '../ui-look-back/open-screens.ts';
import type { LoadsPage } from './in-page.ts';

declare global {
  interface Window {
    loadsPage: LoadsPage;
  }
}

const KINDS = Object.keys(KIND_WORDS) as EquipmentKind[];
let screens: OpenScreens;
let page: Page;

async function show(kind: EquipmentKind): Promise<void> {
  await page.evaluate((which) => window.loadsPage.show(which), kind);
  await page.locator('svg[role=img]').first().waitFor();
}

beforeAll(async () => {
  screens = await openScreens('tests/browser/loads');
  page = await screens.browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(screens.url);
  await page.waitForFunction(() => 'loadsPage' in window);
});

afterAll(async () => {
  await screens.close();
});

describe.each(['light', 'dark'] as const)('in the %s theme', (colorScheme) => {
  test.each(KINDS)(
    'axe-core has nothing to say of a %s, and nothing runs out of a narrow screen',
    async (kind) => {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width: 390, height: 900 });
      await show(kind);
      await page.evaluate(() => {
        for (const details of document.querySelectorAll('details')) details.open = true;
      });
      expect(await axeFindings(page)).toEqual([]);
      expect(
        await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
      ).toBeLessThanOrEqual(0);
      await page.setViewportSize({ width: 1280, height: 900 });
    },
  );
});

describe('the drawings', () => {
  test.each([
    // 196.1 N x 0.55 m / 1.45 m, from moments about the left support.
    ['bar', /starts to lift with 74 N, first at the right support/],
    ['body-curl-set-up', /smallest force: \d+ % of body weight; along the arm: \d+ %/],
    ['band', /anchor 20 cm ahead of, 15 cm outside and 100 cm below the elbow/],
    ['dumbbell', /Demand over strength .* hardest near the bent end/],
  ] as const)('of a %s say what is to be seen', async (kind, sentence) => {
    await show(kind);
    const names = await page
      .locator('svg[role=img]')
      .evaluateAll((drawings) => drawings.map((drawing) => drawing.getAttribute('aria-label')));
    expect(names.join(' ')).toMatch(sentence);
  });

  test('print in black on white', async () => {
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    await show('band');
    const colours = await page
      .locator('svg path.band, svg text')
      .evaluateAll((parts) =>
        parts.map((part) =>
          part.tagName === 'text' ? getComputedStyle(part).fill : getComputedStyle(part).stroke,
        ),
      );
    expect(colours.length).toBeGreaterThan(5);
    expect([...new Set(colours)]).toEqual(['rgb(0, 0, 0)']);
    await page.emulateMedia({ media: 'screen', colorScheme: 'light' });
  });
});

describe('the form', () => {
  test('hands on what is entered, in metres', async () => {
    await show('bar');
    await page.getByRole('textbox', { name: 'Grip at' }).fill('110');
    await page.keyboard.press('Tab');
    const changed = await page.evaluate(() => window.loadsPage.changed.at(-1));
    expect(changed).toMatchObject({ gripsM: [1.1] });
    await expect
      .poll(() => page.locator('svg[role=img]').first().getAttribute('aria-label'))
      .toMatch(/starts to lift with 196 N, first at both supports/);
  });

  test('refuses with a sentence what cannot be meant, and hands nothing on', async () => {
    await show('bar');
    await page.getByRole('textbox', { name: 'Grip at' }).fill('240');
    await page.keyboard.press('Tab');
    await page.getByRole('alert').getByText('A grip lies beyond the end of the bar.').waitFor();
    expect(await page.evaluate(() => window.loadsPage.changed.length)).toBe(0);
    await page.getByRole('textbox', { name: 'Grip at' }).fill('2 m');
    await page.keyboard.press('Tab');
    await page.getByText('Enter 0 to 400 cm.').waitFor();
  });

  test('takes readings as a luggage scale shows them, in kg, and keeps newtons', async () => {
    await show('band');
    await page.getByLabel('Reading 1: pull').fill('2');
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => window.loadsPage.changed.at(-1))).toMatchObject({
      readings: [{ forceN: 19.61 }, {}, {}],
    });
  });
});

describe('the search', () => {
  test('finds a more even set-up, says why, and hands it on', async () => {
    await show('band');
    await page.getByRole('button', { name: 'Find the most even set-up below 25 %' }).click();
    await page.getByText(/^Most even: Elastic band, /).waitFor();
    await page.getByText(/^\d+ set-ups were tried/).waitFor();
    await page.getByRole('button', { name: 'Use it: set-up 1' }).click();
    const used = await page.evaluate(() => window.loadsPage.changed.at(-1));
    expect(used).toMatchObject({ kind: 'band', leavesHand: 'little-finger-side' });
    await page.getByText(/^Felt hardest in the middle; by calculation /).waitFor();
  });
});

describe('the question for the seat of the bar before a hold', () => {
  test.each([
    ['described', true, 1280, 'dark', 1],
    ['described, on a narrow screen', true, 390, 'light', 1],
    ['not described', false, 1280, 'light', 3],
    ['not described, on a narrow screen', false, 390, 'dark', 3],
  ] as const)(
    'draws the supports of a bar that is %s',
    async (_, isDescribed, width, colorScheme, drawings) => {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height: 900 });
      await page.evaluate((described) => window.loadsPage.showSeat(described), isDescribed);
      await page
        .getByRole('img', { name: /^A support seen along the bar, pulled with/ })
        .first()
        .waitFor();
      const images = page.getByRole('img');
      expect(await images.count()).toBe(drawings);
      for (const image of await images.all()) {
        const name = (await image.getAttribute('aria-label')) ?? '';
        const stays = name.match(/: stays in/g)?.length ?? 0;
        const leaves = name.match(/: (lifts out|rolls out|tips)/g)?.length ?? 0;
        expect(stays + leaves).toBe(8);
        // What is said is what is drawn: a thick arrow for each way that keeps the bar in.
        expect(await image.locator('path.within').count()).toBe(stays);
      }
      await page.getByRole('button', { name: 'No, or I am not sure' }).click();
      await page.getByText('Do not pull yet.').waitFor();
      expect(await axeFindings(page)).toEqual([]);
      expect(
        await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
      ).toBeLessThanOrEqual(0);
    },
  );
});
