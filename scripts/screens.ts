/**
 * `npm run screens [-- --out DIR] [--only plan|loads|today|session|therapist]`: photographs the screens of plan, progress,
 * loads, today, a patient's whole session and the therapist's at 390, 1280 and 1920 pixels in both themes, and plan, loads and
 * report as they print, to be looked at. Everything on them is invented.
 */
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import type { Page } from 'playwright-core';
import { planFragment } from '../src/core/plan/plan-link.ts';
import { openApp } from '../tests/browser/ui-begin-live/open-app.ts';
import { openScreens } from '../tests/browser/ui-look-back/open-screens.ts';
import {
  cardsOf,
  choosePackages,
  mainLinks,
  openTherapistApp,
} from '../tests/campaign/therapist/therapist-app.ts';
import { inventedCaseload } from '../tests/helpers/caseload.ts';
import { packageOf } from '../tests/helpers/caseload-packages.ts';
import { inventedPlan } from '../tests/helpers/plan-days.ts';
import { walkCurlSession, walkHoldSession } from '../tests/helpers/session-walk.ts';
import { ROOT } from './bootstrap.mjs';

const { values } = parseArgs({
  options: { out: { type: 'string', default: join(ROOT, 'out/screens') }, only: { type: 'string' } },
});
const out = resolve(process.env['INIT_CWD'] ?? process.cwd(), values.out);
mkdirSync(out, { recursive: true });

const WIDTHS = [390, 1280, 1920] as const;
const THEMES = ['light', 'dark'] as const;
/** What is the matter with those whose screens the therapist's are. */
const THERAPIST_COURSES: readonly string[] = ['pain', 'shoulder-led', 'hand-rose'];
/** A screen with everything unfolded may be longer than a picture can be. */
const MOST_HEIGHT_PX = 12_000;
let count = 0;

async function photograph(page: Page, name: string): Promise<void> {
  const { width = 0 } = page.viewportSize() ?? {};
  const heightPx = await page.evaluate(() => document.documentElement.scrollHeight);
  const clip = { x: 0, y: 0, width, height: Math.min(heightPx, MOST_HEIGHT_PX) };
  await page.screenshot({ path: join(out, `${name}.png`), fullPage: true, clip });
  count++;
}

/** Shows something at every width in every theme, and photographs it. */
async function atAllSizes(page: Page, name: string, show: () => Promise<void>): Promise<void> {
  for (const colorScheme of THEMES)
    for (const width of WIDTHS) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height: 900 });
      await show();
      await photograph(page, `${name}-${String(width)}-${colorScheme}`);
    }
}

async function asPrinted(page: Page, name: string, show: () => Promise<void>): Promise<void> {
  await page.emulateMedia({ colorScheme: 'light' });
  // A4 within its margins at 96 pixels an inch.
  await page.setViewportSize({ width: 718, height: 1000 });
  await show();
  await page.emulateMedia({ media: 'print' });
  await photograph(page, `${name}-print`);
  await page.emulateMedia({ media: null });
}

const unfold = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const details of document.querySelectorAll('details')) details.open = true;
  });

async function planScreens(): Promise<void> {
  const screens = await openScreens('tests/browser/ui-plan');
  const page = await screens.browser.newPage();
  await page.goto(screens.url);
  await page.waitForFunction(() => 'planPage' in window);
  const cases = [
    ['plan-none', '#/plan', 'none'],
    ['plan', '#/plan', 'course'],
    ['plan-received', `#${planFragment(inventedPlan())}`, 'course'],
    ['plan-writing', '#/write-plan', 'none'],
    ['progress', '#/progress', 'course'],
    ['progress-red-flag', '#/progress', 'red-flag'],
  ] as const;
  for (const [name, hash, which] of cases) {
    const show = async (): Promise<void> => {
      await page.evaluate((address) => (location.hash = address), hash);
      await page.evaluate((shelf) => window.planPage.show(shelf), which);
      await page.getByText(/^Looking up/).waitFor({ state: 'detached' });
      const therapist = page.getByText('The therapist', { exact: true });
      if ((await therapist.count()) > 0) await therapist.click();
      await unfold(page);
      await page.waitForTimeout(400);
    };
    await atAllSizes(page, name, show);
    if (name === 'plan') await asPrinted(page, name, show);
  }
  await screens.close();
}

async function loadScreens(): Promise<void> {
  const screens = await openScreens('tests/browser/loads');
  const page = await screens.browser.newPage();
  await page.goto(screens.url);
  await page.waitForFunction(() => 'loadsPage' in window);
  for (const kind of ['bar', 'body-curl-set-up', 'band', 'dumbbell'] as const) {
    const show = async (): Promise<void> => {
      await page.evaluate((which) => window.loadsPage.show(which), kind);
      await page.locator('svg[role=img]').first().waitFor();
      await unfold(page);
      await page.waitForTimeout(400);
    };
    await atAllSizes(page, `loads-${kind}`, show);
    await asPrinted(page, `loads-${kind}`, show);
  }
  await screens.close();
}

/** The steps of a day, each photographed where it is reached; the plan comes by its link. */
async function todayScreens(): Promise<void> {
  const app = await openApp([]);
  for (const colorScheme of THEMES)
    for (const width of WIDTHS) {
      const { page, context } = await app.openPage({ colorScheme, viewport: { width, height: 900 } });
      const step = async (name: string): Promise<void> => {
        await page.waitForTimeout(400);
        await photograph(page, `today-${name}-${String(width)}-${colorScheme}`);
      };
      await page.goto(`${app.url}#${planFragment(inventedPlan())}`);
      await page.getByRole('button', { name: 'Keep it and follow it here' }).click();
      await page.getByRole('heading', { name: 'Hand over' }).waitFor();
      await page.goto(`${app.url}#/begin`);
      await page.getByRole('group', { name: 'No to all. Pain now?' }).waitFor();
      await step('1-questions');
      await page.getByRole('checkbox', { name: /pop in the arm/ }).check();
      await step('2-seek-care');
      await page.getByRole('checkbox', { name: /pop in the arm/ }).uncheck();
      await page.keyboard.press('2');
      await page.getByRole('button', { name: 'Yes, it stays in them' }).waitFor();
      await step('3-prepare');
      await page.getByRole('button', { name: 'Back to the list' }).click();
      await page
        .getByRole('button', { name: /^Start / })
        .first()
        .waitFor();
      await step('4-exercises');
      await page.getByRole('button', { name: 'Isometric hold without a camera' }).click();
      await page.getByRole('button', { name: 'Yes, it stays in them' }).click();
      await step('5-by-hand');
      await page.getByRole('button', { name: 'Set 1 is done' }).click();
      await page.getByRole('group', { name: 'Pain now?' }).waitFor();
      await step('6-pain-after');
      await page.keyboard.press('4');
      await page.getByText(/your plan allows up to/).waitFor();
      await step('7-above-ceiling');
      await context.close();
    }
  await app.close();
}

/** People, review with sign-off, comparison, report and exchange, over three people of the made scenario. */
async function therapistScreens(): Promise<void> {
  const { app, page } = await openTherapistApp();
  const links = mainLinks(page);
  const people = inventedCaseload().filter(({ course }) => THERAPIST_COURSES.includes(course));
  const files = [];
  for (const person of people.slice(0, THERAPIST_COURSES.length))
    files.push({
      name: `${person.label}.zip`,
      mimeType: 'application/zip',
      buffer: await packageOf(person, { kind: 'open' }),
    });
  await links.getByRole('link', { name: 'Sessions' }).click();
  await page.getByRole('link', { name: 'Send and take in packages' }).click();
  await choosePackages(page, files);
  await page
    .getByText(/: \d+ new\.$/)
    .nth(files.length - 1)
    .waitFor();
  const root = page.url().split('#')[0] ?? '';
  await atAllSizes(page, 'exchange', async () => {
    await page.waitForTimeout(300);
  });
  await links.getByRole('link', { name: 'Sessions' }).click();
  const card = cardsOf(page).filter({ hasText: 'Shoulder-led' }).first();
  await card.locator('summary').click();
  const ids = await card
    .getByRole('link', { name: /^Look back: .*Body-moving curl/ })
    .evaluateAll((all) => all.map((link) => link.getAttribute('href')?.split('/').at(-1) ?? ''));
  await atAllSizes(page, 'people', async () => {
    await page.waitForTimeout(300);
  });

  await page.goto(`${root}#/look-back/${ids[0] ?? ''}`);
  await page.getByRole('button', { name: 'Review this session' }).click();
  await page
    .getByLabel('Answer', { exact: true })
    .fill('Keep the elbow in front. The second set was better.');
  const sign = page.getByRole('region', { name: 'Sign-off' });
  await sign.getByLabel('Name').fill('Invented Therapist');
  await atAllSizes(page, 'review', async () => {
    await page.waitForTimeout(300);
  });
  await sign.getByRole('button', { name: 'Sign this review' }).click();
  await sign.getByText('It does not change any more.').waitFor();
  await atAllSizes(page, 'review-signed', async () => {
    await page.waitForTimeout(300);
  });

  await page.goto(`${root}#/compare/${ids[0] ?? ''}/${ids[1] ?? ''}`);
  await page.getByRole('heading', { name: 'Figures in step' }).waitFor();
  await atAllSizes(page, 'compare', async () => {
    await page.waitForTimeout(300);
  });

  await page.goto(`${root}#/report/${ids[0] ?? ''}`);
  await page.getByRole('heading', { name: 'Signature' }).waitFor();
  for (const reader of ['The file', 'The patient']) {
    const name = `report-${reader.slice(4)}`;
    await page.getByText(reader, { exact: true }).click();
    await atAllSizes(page, name, async () => {
      await page.waitForTimeout(300);
    });
    await page.pdf({ path: join(out, `${name}.pdf`), preferCSSPageSize: true });
  }

  await page.goto(`${root}#/plan`);
  await page.getByRole('link', { name: 'Send and take in packages' }).click();
  await page.getByText(/^Stays here:/).waitFor();
  await atAllSizes(page, 'exchange-for-patient', async () => {
    await page.waitForTimeout(300);
  });
  await app.close();
}

/** Every state of a session, from a plan's link to the end of the day. */
async function sessionScreens(): Promise<void> {
  const app = await openApp(['--use-fake-ui-for-media-stream']);
  for (const [name, walk] of [
    ['hold', walkHoldSession],
    ['curl', walkCurlSession],
  ] as const) {
    const { page, context } = await app.openPage();
    let state = 0;
    await walk(page, app.url, async ({ name: stateName, keep }) => {
      state += 1;
      const file = `session-${name}-${String(state).padStart(2, '0')}-${stateName}`;
      await atAllSizes(page, file, async () => {
        await keep();
        await page.waitForTimeout(200);
      });
      await page.setViewportSize({ width: 1280, height: 800 });
    });
    await context.close();
  }
  await app.close();
}

const PARTS = {
  plan: planScreens,
  loads: loadScreens,
  today: todayScreens,
  session: sessionScreens,
  therapist: therapistScreens,
};
for (const [name, part] of Object.entries(PARTS))
  if (values.only === undefined || values.only === name) await part();
console.log(`${String(count)} pictures in ${out}`);
