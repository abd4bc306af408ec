import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { planFragment } from '../../src/core/plan/plan-link.ts';
import type { OpenApp } from '../../tests/browser/ui-begin-live/open-app.ts';
import { shortHoldPlan } from '../../tests/helpers/plan-days.ts';
import { readTexts } from './read-text.ts';
import { SCREENS, type Reading, type ShownScreen } from './visual-angle.ts';

/** What is read from three metres, by its place on the screen. */
const READ = {
  figure: '.live .digits, .live .word, .clock .figure',
  cue: '.strip .cue, .rating h2, .rating .steps .figure',
  label: '.demonstration figcaption .mark',
} as const;
const PATIENCE_MS = 120_000;

/** Goes from a plan's link to the rest after a set, reads what is drawn at each state in both themes, and photographs it. */
export async function walkSession(app: OpenApp, screen: ShownScreen, out: string): Promise<Reading[]> {
  const { width, height } = SCREENS[screen];
  const { page, context } = await app.openPage({ colorScheme: 'light', viewport: { width, height } });
  const readings: Reading[] = [];
  let count = 0;
  const state = async (name: string, isRead = true): Promise<void> => {
    count += 1;
    for (const theme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme: theme });
      await page.locator(`html[data-theme=${theme}]`).waitFor();
      const file = `${screen}-${String(count).padStart(2, '0')}-${name}-${theme}.png`.replaceAll(' ', '-');
      await page.screenshot({ path: join(out, file) });
      if (!isRead) continue;
      for (const kind of ['figure', 'cue', 'label'] as const)
        for (const drawn of await readTexts(page, READ[kind]))
          readings.push({ screen, theme, state: name, kind, ...drawn });
    }
    await page.emulateMedia({ colorScheme: 'light' });
  };
  // What runs this script names functions by a helper of its own, which the page does not have.
  await page.evaluate('window.__name = (named) => named;');
  await page.goto(`${app.url}#${planFragment(shortHoldPlan('right'))}`);
  const begin = page.getByRole('button', { name: 'Keep it and begin today’s session' });
  await begin.waitFor();
  await state('link', false);
  await begin.click();
  await page.getByRole('group', { name: 'No to all. Pain now?' }).waitFor();
  await state('before', false);
  await page.keyboard.press('1');
  const seated = page.getByRole('button', { name: 'Yes, it stays in them' });
  await seated.waitFor();
  await state('prepare', false);
  await seated.click();
  await toSet(page, state);
  // The set runs by itself, is ended by its key, and its questions are answered by keys.
  await page.getByRole('button', { name: /^Stop/ }).waitFor({ timeout: PATIENCE_MS });
  await page.waitForTimeout(4000);
  await state('set');
  await page.keyboard.press('Escape');
  await page.getByRole('group', { name: 'Pain now?' }).waitFor({ timeout: PATIENCE_MS });
  await state('pain');
  await page.keyboard.press('1');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.getByRole('group', { name: 'How hard was it?' }).waitFor();
  await page.keyboard.press('5');
  await page.getByRole('timer', { name: 'Rest' }).waitFor();
  await state('rest');
  await context.close();
  return readings;
}

/** The approach, each of its steps as it comes; what the clip's person does not do is passed by key. */
async function toSet(page: Page, state: (name: string) => Promise<void>): Promise<void> {
  const start = page.getByRole('button', { name: 'Start set 1' });
  const stop = page.getByRole('button', { name: /^Stop/ });
  const stepNow = async (): Promise<string | undefined> =>
    (
      await page
        .locator('.approach')
        .getAttribute('class', { timeout: 500 })
        .catch(() => null)
    )?.split(' ')[1];
  await page.locator('.approach').waitFor({ timeout: PATIENCE_MS });
  const seen = new Set<string>();
  while ((await start.count()) + (await stop.count()) === 0) {
    await page.waitForTimeout(700);
    const step = await stepNow();
    if (step === undefined || seen.has(step)) continue;
    seen.add(step);
    await state(step);
    // A step that went on by itself meanwhile must not have the next one passed.
    if ((await stepNow()) === step) await page.keyboard.press('ArrowRight');
  }
  if ((await start.count()) === 0) return;
  await state('ready');
  // The set may have begun by itself.
  if ((await start.count()) > 0) await start.click({ timeout: 2000 }).catch(() => undefined);
}
