import { readFileSync } from 'node:fs';
import jsQR from 'jsqr';
import { PNG } from 'pngjs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { planFragment } from '../../../src/core/plan/plan-link.ts';
import { readPlan } from '../../../src/core/plan/read-plan.ts';
import { dayLogText } from '../../../src/core/export/day-log.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';
import { axeFindings } from '../axe-findings.ts';
import { openScreens, type OpenScreens } from '../ui-look-back/open-screens.ts';
import type { PlanCase } from './in-page.ts';

const LINK = `#${planFragment(inventedPlan())}`;

let screens: OpenScreens;
let page: Page;

async function show(hash: string, which: PlanCase): Promise<void> {
  await page.evaluate((address) => (location.hash = address), hash);
  await page.evaluate((name) => window.planPage.show(name), which);
  await page.locator('h1').waitFor();
  await page.getByText(/^Looking up/).waitFor({ state: 'detached' });
}

beforeAll(async () => {
  screens = await openScreens('tests/browser/ui-plan');
  page = await screens.browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(screens.url);
  await page.waitForFunction(() => 'planPage' in window);
});

afterAll(async () => {
  await screens.close();
});

describe('axe-core and the width of the window', () => {
  test.each([
    ['the empty plan screen', '#/plan', 'none', 1280],
    ['a plan', '#/plan', 'course', 1920],
    ['a plan on a narrow screen', '#/plan', 'damaged', 390],
    ['a plan that was handed over', LINK, 'course', 1280],
    ['writing a plan', '#/write-plan', 'none', 1280],
    ['writing a plan on a narrow screen', '#/write-plan', 'none', 390],
    ['progress without a plan', '#/progress', 'none', 1280],
    ['progress without a day', '#/progress', 'new-plan', 1280],
    ['progress', '#/progress', 'course', 1920],
    ['progress with a red flag on a narrow screen', '#/progress', 'red-flag', 390],
  ] as const)('have nothing to say of %s', async (_, hash, which, width) => {
    await page.setViewportSize({ width, height: 900 });
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      await show(hash, which);
      const therapist = page.getByText('The therapist', { exact: true });
      if ((await therapist.count()) > 0) await therapist.click();
      await page.evaluate(() => {
        for (const details of document.querySelectorAll('details')) details.open = true;
      });
      expect(await axeFindings(page), colorScheme).toEqual([]);
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(overflow).toBeLessThanOrEqual(0);
    }
    await page.setViewportSize({ width: 1280, height: 900 });
  });
});

describe('a plan', () => {
  test('stands ready, is written by keyboard alone, and becomes version 1 with its reason', async () => {
    await show('#/plan', 'none');
    await page.getByRole('button', { name: 'Write a new plan' }).focus();
    await page.keyboard.press('Enter');
    const label = page.getByLabel('Label');
    await label.waitFor();
    await label.focus();
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('Tuesday, ten o’clock');
    expect(await page.getByRole('button', { name: 'Save as version 1' }).isDisabled()).toBe(true);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Space');
    for (const question of await page.getByRole('group', { name: /\?$/ }).all()) {
      await question.getByRole('radio', { name: 'No' }).focus();
      await page.keyboard.press('Space');
    }
    await page.getByText('no to every question.').waitFor();
    await page.getByRole('button', { name: 'Save as version 1' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Hand over' }).waitFor();
    const [plan] = await page.evaluate(() => window.planPage.plans());
    expect(plan).toMatchObject({
      version: 1,
      reason: 'First version.',
      person: { label: 'Tuesday, ten o’clock', treatedSide: 'left' },
      screening: { yes: [] },
    });
  });

  test('that is changed gets a new version that says what changed, and a refused figure is not saved over', async () => {
    await show('#/plan', 'new-plan');
    await page.getByRole('button', { name: 'Change the plan' }).click();
    const sets = page.getByLabel('Sets', { exact: true }).first();
    await sets.fill('99');
    await sets.press('Tab');
    await page.getByText('Enter a whole number, 1 to 20.').waitFor();
    await page.getByLabel('Rise allowed in a session').fill('1');
    await page.getByLabel('Rise allowed in a session').press('Tab');
    await page.getByRole('button', { name: 'Save as version 2' }).click();
    await page.getByText('A field holds what cannot be meant.').waitFor();
    expect(await sets.evaluate((field) => field === document.activeElement)).toBe(true);
    await sets.fill('4');
    await sets.press('Tab');
    await page.getByLabel('Reason', { exact: true }).fill('Pain settled.');
    await page.getByRole('button', { name: 'Save as version 2' }).click();
    await page.getByRole('heading', { name: 'Version 2' }).waitFor();
    const versions = page.locator('section[aria-labelledby="versions-heading"]');
    expect(await versions.innerText()).toMatch(/Pain settled\.[\s\S]*5 sets of 30 s[\s\S]*4 sets of 30 s/);
  });

  test('with a yes to a question starts no hold before the therapist’s decision', async () => {
    await show('#/write-plan', 'none');
    const questions = page.getByRole('group', { name: /\?$/ });
    const [first, ...others] = await questions.all();
    await first?.getByText('Yes', { exact: true }).click();
    for (const question of others) await question.getByText('No', { exact: true }).click();
    await page.getByText('no hold starts before your decision').waitFor();
    await page.getByText('I allow them').click();
    await page.getByText('no hold starts before your decision').waitFor({ state: 'detached' });
  });

  test('that was being written is taken up again when the page was closed', async () => {
    await show('#/write-plan', 'none');
    await page.getByLabel('Label').fill('Half written');
    await page.getByLabel('Label').press('Tab');
    await page.evaluate(() => (location.hash = '#/plan'));
    await page.getByText('The plan Half written is being written').waitFor();
    await page.getByRole('button', { name: 'Go on writing' }).click();
    await expect.poll(() => page.getByLabel('Label').inputValue()).toBe('Half written');
  });

  test('that is deleted can be brought back with its days', async () => {
    await show('#/plan', 'course');
    await page.getByRole('button', { name: /^Delete the plan/ }).click();
    await page.getByText('No plan is kept here yet.').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('heading', { name: 'Hand over' }).waitFor();
    const id = inventedPlan().id;
    expect(await page.evaluate((planId) => window.planPage.days(planId), id)).toHaveLength(11);
  });
});

describe('a plan is handed over', () => {
  test('as a file that its own gate reads, and is taken in from it', async () => {
    await show('#/plan', 'new-plan');
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Download the plan' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('plan-invented-v1.plan.json');
    const path = await download.path();
    expect(readPlan(readFileSync(path, 'utf8'))).toEqual({ ok: true, plan: inventedPlan() });
    await show('#/plan', 'none');
    await page.getByLabel('Plan file').setInputFiles(path);
    await page.getByRole('button', { name: 'Keep it and follow it here' }).click();
    await page.getByRole('button', { name: 'Stop following it here' }).waitFor();
  });

  test('as a QR code that a reader turns into the link', async () => {
    await show('#/plan', 'new-plan');
    const link = await page.getByRole('textbox', { name: 'Link to version 1' }).inputValue();
    const code = page.getByRole('img', { name: /^QR code/ });
    await code.scrollIntoViewIfNeeded();
    const { data, width, height } = PNG.sync.read(await code.screenshot());
    expect(jsQR(new Uint8ClampedArray(data), width, height)?.data).toBe(link);
    expect(link.split('#')[1]).toBe(planFragment(inventedPlan()));
  });

  test('as a link that is shown before it is kept, and then stands in the address no longer', async () => {
    await show('#/plan', 'new-plan');
    const later = nextVersion(inventedPlan(), { stageKey: 'body-curl' }, '2026-03-14T10:00:00+01:00');
    await page.evaluate((hash) => (location.hash = hash), planFragment(later));
    await page.getByText('Stage followed').first().waitFor();
    expect((await page.evaluate(() => window.planPage.plans())).map(({ version }) => version)).toEqual([1]);
    await page.getByRole('button', { name: 'Keep it and follow it here' }).click();
    await expect.poll(() => page.evaluate(() => location.hash)).toBe('#/plan');
    expect((await page.evaluate(() => window.planPage.plans())).map(({ version }) => version)).toEqual([2]);
  });

  test.each([
    ['cut short', LINK.slice(0, -9), /cut short or changed/],
    ['of another kind', '#plan=7.abc', /newer version/],
  ])('but not by a link that is %s', async (_, link, sentence) => {
    await show(link, 'none');
    await expect.poll(() => page.getByRole('alert').textContent()).toMatch(sentence);
    expect(await page.evaluate(() => window.planPage.plans())).toEqual([]);
  });
});

describe('progress', () => {
  test('puts red flags first, and the patient reads no proposal', async () => {
    await show('#/progress', 'red-flag');
    const headings = await page.getByRole('heading', { level: 2 }).allInnerTexts();
    expect(headings[0]).toBe('Answers that ask for care');
    expect(headings).not.toContain('Proposal');
    await page.getByText('The therapist', { exact: true }).click();
    await page.getByText('No session; care now').waitFor();
    expect(await page.getByRole('button', { name: 'Record the decision' }).isDisabled()).toBe(true);
  });

  test('takes the therapist’s decision with its reason, and makes the next version of it', async () => {
    await show('#/progress', 'course');
    await page.getByText('The therapist', { exact: true }).click();
    await page.getByText('Step back', { exact: true }).click();
    const record = page.getByRole('button', { name: 'Record the decision' });
    expect(await record.isDisabled()).toBe(true);
    await page.getByLabel('Reason').fill('The morning of the 19th.');
    await page.getByLabel('Reason').press('Tab');
    await record.click();
    await page.getByText('Recorded. Version 3 is in force.').waitFor();
    const [plan] = await page.evaluate(() => window.planPage.plans());
    expect(plan).toMatchObject({ version: 3, stageKey: 'hold', reason: 'The morning of the 19th.' });
  });

  test('shows what was asked and done set by set, and hands the days over to another machine', async () => {
    await show('#/progress', 'course');
    await page.getByRole('button', { name: 'Open the details of Fri 27 March' }).click();
    const detail = page.getByRole('region', { name: 'Details of Fri 27 March' });
    expect(await detail.innerText()).toMatch(/30 s, easier\s+15 s\s+pain 2/);
    await page.getByRole('button', { name: 'Open the details of Wed 25 March' }).click();
    const curled = page.getByRole('region', { name: 'Details of Wed 25 March' });
    await curled.getByRole('cell', { name: '540 N m s (380 to 760)' }).first().waitFor();
    await curled.getByText(/never a force in the tendon/).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Download 11 training days' }).click(),
    ]);
    const path = await download.path();
    await show('#/progress', 'none');
    await page.getByLabel('File of training days').setInputFiles(path);
    await page.getByText('11 training days new, 0 renewed').waitFor();
    await page.getByRole('button', { name: 'Open the details of Fri 27 March' }).waitFor();
  });

  test('keeps every file of days that is chosen while another is taken in, and of one day the later state', async () => {
    await show('#/progress', 'none');
    const plan = inventedPlan();
    const [first, other] = [dayOn(plan, '03-02'), dayOn(plan, '03-04')];
    const files = [[first, other], [{ ...first, nextMorning: null }], [dayOn(plan, '03-06')]].map(
      (days, index) => ({
        name: `${index}.days.json`,
        mimeType: 'application/json',
        buffer: Buffer.from(dayLogText({ versions: [plan], days, records: [] }, plan.writtenAt)),
      }),
    );
    // The element is held: a person's picker stays open over whatever the page does meanwhile.
    const input = await page.getByLabel('File of training days').elementHandle();
    for (const file of files) await input?.setInputFiles(file);
    await page.getByRole('button', { name: 'Open the details of Fri 6 March' }).waitFor();
    const days = await page.evaluate((id) => window.planPage.days(id), plan.id);
    expect(days.map(({ nextMorning }) => nextMorning?.pain)).toEqual([2, 2, 2]);
  });

  test('says of a change that may be chance that it is no change', async () => {
    await show('#/progress', 'course');
    const chart = page.locator('figure').filter({ hasText: 'Range of a repetition' });
    await chart.getByText('no change', { exact: true }).waitFor();
  });

  test('leaves the charts as a table one key away, and as a file of the weeks', async () => {
    await show('#/progress', 'course');
    await page.getByRole('button', { name: 'As a table' }).focus();
    await page.keyboard.press('Enter');
    const row = page.getByRole('row', { name: /^Range of a repetition/ });
    expect(await row.getByRole('cell').first().innerText()).toMatch(/^\d+ deg$|^–$/);
    expect(await axeFindings(page)).toEqual([]);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Download the weekly figures (CSV)' }).click(),
    ]);
    expect(download.suggestedFilename()).toMatch(/\.weeks\.csv$/);
    const [head = ''] = readFileSync(await download.path(), 'utf8').split('\n');
    expect(head).toContain('elbow_impulse_estimate_Nm_s');
  });
});
