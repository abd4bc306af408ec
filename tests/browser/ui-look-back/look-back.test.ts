import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { LookBackPage } from './in-page.ts';
import { axeFindings } from '../axe-findings.ts';
import { openScreens, type OpenScreens } from './open-screens.ts';

const HOLD = '#/look-back/00000000-0000-4000-8000-000000000001';
const BODY_CURL = '#/look-back/00000000-0000-4000-8000-000000000002';
const BAND_CURL = '#/look-back/00000000-0000-4000-8000-000000000003';

let screens: OpenScreens;
let page: Page;

async function show(hash: string, records: Parameters<LookBackPage['show']>[0] = 'samples'): Promise<void> {
  await page.evaluate((address) => (location.hash = address), hash);
  await page.evaluate((which) => window.lookBackPage.show(which), records);
  await page.locator(hash.startsWith('#/look-back') ? '[role=slider]' : 'h1').waitFor();
}

const cursorSeconds = async (): Promise<number> =>
  Number(await page.locator('[role=slider]').getAttribute('aria-valuenow'));

beforeAll(async () => {
  screens = await openScreens();
  page = await screens.browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(screens.url);
  await page.waitForFunction(() => 'lookBackPage' in window);
});

afterAll(async () => {
  await screens.close();
});

describe.each(['light', 'dark'] as const)('in the %s theme', (colorScheme) => {
  test.each([
    ['Sessions', '#/sessions', 'samples', 1280],
    ['Sessions without any', '#/sessions', 'none', 1280],
    ['a hold', HOLD, 'samples', 1280],
    ['a body-moving curl', BODY_CURL, 'samples', 1280],
    ['a body-moving curl on a narrow screen', BODY_CURL, 'samples', 390],
    ['a band curl', BAND_CURL, 'samples', 1280],
  ] as const)('axe-core has nothing to say of %s', async (_, hash, records, width) => {
    await page.emulateMedia({ colorScheme });
    await page.setViewportSize({ width, height: 900 });
    await show(hash, records);
    await page.evaluate(() => {
      for (const details of document.querySelectorAll('details')) details.open = true;
    });
    expect(await axeFindings(page)).toEqual([]);
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(overflow).toBeLessThanOrEqual(0);
    await page.setViewportSize({ width: 1280, height: 900 });
  });
});

describe('a band curl', () => {
  test('says in one line why nothing is known of the palm, and has no column of it', async () => {
    await show(BAND_CURL);
    const repetitions = page.locator('section[aria-labelledby="repetitions-heading"]');
    await repetitions.getByText('Forearm rotation was not measured. The hand is too small').waitFor();
    const heads = await repetitions.locator('thead th').allInnerTexts();
    expect(heads).toContain('trunk sway');
    expect(heads).not.toContain('forearm rotation range');
  });
});

describe('the trace', () => {
  test('moves by frames, to the ends and by flags with the keyboard, and reads the moment out', async () => {
    await show(BODY_CURL);
    const trace = page.locator('[role=slider]');
    await trace.focus();
    await page.keyboard.press('ArrowRight');
    expect(await cursorSeconds()).toBeCloseTo(1 / 30, 3);
    await page.keyboard.press('Shift+ArrowRight');
    expect(await cursorSeconds()).toBeCloseTo(11 / 30, 3);
    await page.keyboard.press('End');
    expect(await cursorSeconds()).toBeCloseTo(29 - 1 / 30, 3);
    await page.keyboard.press('Home');
    await page.keyboard.press('f');
    expect(await cursorSeconds()).toBeGreaterThan(1);
    await expect
      .poll(() => page.locator('[aria-live=polite]').textContent())
      .toMatch(/Elbow flexion \d+ deg.*noticed:/);
  });

  test('zooms with + and -, and shows the same data as a table one key away', async () => {
    await show(BODY_CURL);
    const ticks = (): Promise<string[]> => page.locator('[role=slider] text.time').allTextContents();
    const whole = await ticks();
    await page.locator('[role=slider]').focus();
    await page.keyboard.press('+');
    await page.keyboard.press('+');
    expect(await ticks()).not.toEqual(whole);
    await page.keyboard.press('0');
    expect(await ticks()).toEqual(whole);
    await page.keyboard.press('t');
    const row = page.locator('tr[aria-current=true] th button').first();
    expect(await row.textContent()).toContain('0.00 s');
    await page.keyboard.press('t');
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('role'))).toBe('slider');
  });

  test('is where a repetition’s jump leads, and the replay plays on from there', async () => {
    await show(BODY_CURL);
    await page
      .getByRole('button', { name: /^Go to repetition 3,/ })
      .first()
      .click();
    const jumped = await cursorSeconds();
    expect(jumped).toBeGreaterThan(11);
    expect(jumped).toBeLessThan(12.5);
    await page.getByRole('button', { name: 'Play' }).click();
    await expect.poll(cursorSeconds).toBeGreaterThan(jumped + 0.3);
    await page.getByRole('button', { name: 'Pause' }).click();
    const paused = await cursorSeconds();
    await page.getByRole('button', { name: 'One frame back' }).click();
    expect(await cursorSeconds()).toBeLessThan(paused);
  });
});

describe('a session', () => {
  test('says why a repetition was judged as it was, with the signs of a row, and of which hold the effort is unknown', async () => {
    await show(BODY_CURL);
    await page
      .getByText(
        /Repetition 3 was not judged: the shoulder did \d+ % .* but the movement was a row’s: the shoulder made/,
      )
      .waitFor();
    await page.getByText(/^Over the measured repetitions the hands hold between \d+ %/).waitFor();
    await page.getByRole('columnheader', { name: 'force at each hand' }).waitFor();
    await show(HOLD);
    await page.getByText('Set 2', { exact: true }).click();
    await page.getByRole('cell', { name: 'position held, effort unknown' }).first().waitFor();
  });

  test('can be taken along as record, frames and repetitions', async () => {
    await show(BODY_CURL);
    const names: string[] = [];
    for (const name of [/Download the session record/, /Download the frames/, /Download the repetitions/]) {
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name }).click(),
      ]);
      names.push(download.suggestedFilename());
    }
    expect(names).toEqual([
      '2026-03-03-body-curl-left.record.json',
      '2026-03-03-body-curl-left.frames.csv',
      '2026-03-03-body-curl-left.repetitions.csv',
    ]);
  });

  test('that is deleted can be brought back', async () => {
    await show('#/sessions');
    expect(await page.getByRole('link', { name: /Body-moving curl/ }).count()).toBe(1);
    await page.getByRole('button', { name: /^Delete Body-moving curl/ }).click();
    await expect.poll(() => page.getByRole('link', { name: /Body-moving curl/ }).count()).toBe(0);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => page.getByRole('link', { name: /Body-moving curl/ }).count()).toBe(1);
  });
});

describe('the clip of a set, opened again', () => {
  test('can be measured more closely with the exercise of the record, and says first what that costs', async () => {
    await show(HOLD);
    await page.getByRole('button', { name: 'Open the clip' }).waitFor();
    expect(await page.getByRole('button', { name: 'Measure the clip again' }).count()).toBe(0);
    await page.getByLabel('Clip of this session').setInputFiles('demo-clips/hold-drift.mp4');
    await page.getByText(/takes 5 to 8 times as long/).waitFor();
    await page.getByRole('button', { name: 'Measure the clip again' }).click();
    expect(await page.evaluate(() => window.lookBackPage.askedAgain)).toMatchObject([
      ['hold-drift.mp4', { exercise: 'hold', side: expect.stringMatching(/^(left|right)$/) }],
    ]);
  });
});

describe('a record file', () => {
  test.each([
    ['cut short', '{"format": "forearmed-session-rec', /damaged or cut short/],
    ['not ours', '{"hello": 1}', /is not a session record/],
    ['newer', '{"format": "forearmed-session-record", "schemaVersion": 99}', /newer version/],
    ['damaged', '{"format": "forearmed-session-record", "schemaVersion": 1}', /is damaged at/],
  ])('that is %s is refused with a sentence', async (_, text, sentence) => {
    await show('#/sessions', 'none');
    const file = { name: 'some.record.json', mimeType: 'application/json', buffer: Buffer.from(text) };
    await page.locator('input[type=file]').setInputFiles(file);
    await expect.poll(() => page.getByRole('alert').textContent()).toMatch(sentence);
  });

  test('that was downloaded opens again in an empty list', async () => {
    await show(BODY_CURL);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: /Download the session record/ }).click(),
    ]);
    const path = await download.path();
    await show('#/sessions', 'none');
    await page.getByText('No session is kept here yet.').waitFor();
    await page.locator('input[type=file]').setInputFiles(path);
    await page.getByText(/Repetition 3 was not judged: the shoulder did/).waitFor();
  });
});

describe('the review of a session, by keyboard alone', () => {
  const press = async (name: string | RegExp, role: 'button' | 'radio' = 'button'): Promise<void> => {
    await page.getByRole(role, { name }).first().focus();
    await page.keyboard.press(role === 'radio' ? 'Space' : 'Enter');
  };
  const write = async (label: string, text: string): Promise<void> => {
    await page.getByLabel(label, { exact: true }).focus();
    await page.keyboard.type(text);
  };
  const done = (words: string) => page.locator('section[aria-labelledby="glance-heading"]').getByText(words);
  const reviews = () => page.evaluate((id) => window.lookBackPage.reviews(id), BODY_CURL.slice(12));

  test('corrects with a reason, undoes, notes, measures by hand, answers, signs, and goes on in a new one', async () => {
    await page.evaluate(() => window.lookBackPage.forgetReviews());
    await show(BODY_CURL);
    await press('Review this session');
    await done('4 full, 1 partial').waitFor();

    await press(/^Go to repetition 3,/);
    await press('partial', 'radio');
    await write('Reason', 'The top was not reached.');
    await press('Correct');
    await done('3 full, 2 partial (corrected)').waitFor();
    await press('Undo');
    await done('4 full, 1 partial').waitFor();

    await press('It is no repetition', 'radio');
    await write('Reason', 'A change of grip.');
    await press('Correct');
    await done('3 full, 1 partial (corrected)').waitFor();
    await page.getByText('Figures and tables of this set are as corrected').waitFor();

    await write('Note', 'Ask about the grip.');
    await press(/^Note at /);
    await press('Measure the elbow');
    // The crosshair comes up in the middle: a right angle by steps of a twentieth of the picture.
    for (const key of ['Enter', 'Enter', 'Shift+ArrowDown', 'Shift+ArrowDown', 'Enter'])
      await page.keyboard.press(key);
    for (const key of ['Shift+ArrowRight', 'Shift+ArrowRight', 'Enter']) await page.keyboard.press(key);
    await page.getByText('By hand 90 deg').waitFor();
    await press('Keep this angle');
    await press(/^Arrow$/);
    for (const key of ['Enter', 'Enter', 'Shift+ArrowLeft', 'Enter']) await page.keyboard.press(key);
    await press('Keep this drawing');
    await write('Answer', 'Keep the elbow in front.');
    await press('Put this moment into the answer');

    for (const colorScheme of ['dark', 'light'] as const) {
      // Without motion: colours on their way from one theme to the other have no contrast to speak of.
      await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' });
      await page.evaluate((theme) => (document.documentElement.dataset['theme'] = theme), colorScheme);
      expect(await axeFindings(page)).toEqual([]);
    }
    await page.setViewportSize({ width: 390, height: 900 });
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );
    await page.setViewportSize({ width: 1280, height: 900 });

    await write('Name', 'An invented name');
    await press('Sign this review');
    await page.getByRole('heading', { name: 'Answer of your therapist' }).waitFor();
    expect(await page.getByRole('heading', { name: 'Correct the program' }).count()).toBe(0);
    await press('Begin a new review that follows it');
    await page.getByRole('heading', { name: 'Correct the program' }).waitFor();
    await expect.poll(async () => (await reviews()).length).toBe(2);
    const [signed, next] = await reviews();
    expect(signed?.signOff?.name).toBe('An invented name');
    expect(signed?.corrections.map(({ kind, withdrawnAt }) => [kind, withdrawnAt !== null])).toEqual([
      ['rejudge', true],
      ['discard', false],
    ]);
    expect(signed?.notes.map(({ text }) => text)).toEqual(['Ask about the grip.']);
    expect(signed?.handAngles[0]?.flexionDeg).toBeCloseTo(90, 1);
    expect(signed?.drawings).toHaveLength(1);
    expect(signed?.answer?.moments).toHaveLength(1);
    expect(next).toMatchObject({ follows: signed?.id, signOff: null, corrections: signed?.corrections });
    await page.evaluate(() => window.lookBackPage.forgetReviews());
  });
});
