import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFindings } from '../../browser/ui-begin-live/open-app.ts';
import { inventedCaseload } from '../../helpers/caseload.ts';
import { packageOf } from '../../helpers/caseload-packages.ts';
import { cardsOf, choosePackages, mainLinks, openTherapistApp, type TherapistApp } from './therapist-app.ts';

/*
 * The therapist's screens in the built app: rules of WCAG in both themes (axe-core), nothing wider than the window at 390
 * and 1280 pixels, and every control reached by the keyboard alone, in order and without a trap.
 */

let opened: TherapistApp;
let page: Page;
/** The addresses of the screens, found on the way. */
const addresses = new Map<string, string>();

beforeAll(async () => {
  opened = await openTherapistApp();
  ({ page } = opened);
  const people = inventedCaseload().filter(({ course }) => course === 'pain' || course === 'shoulder-led');
  const files = await Promise.all(
    people.map(async (person) => ({
      name: `${person.label}.zip`,
      mimeType: 'application/zip',
      buffer: await packageOf(person, { kind: 'open' }),
    })),
  );
  await mainLinks(page).getByRole('link', { name: 'Sessions' }).click();
  await page.getByRole('link', { name: 'Send and take in packages' }).click();
  await choosePackages(page, files);
  await page
    .getByText(/: \d+ new\.$/)
    .nth(people.length - 1)
    .waitFor();
  addresses.set('Exchange', page.url());
  await mainLinks(page).getByRole('link', { name: 'Sessions' }).click();
  const card = cardsOf(page).filter({ hasText: 'Shoulder-led' }).first();
  await card.locator('summary').click();
  addresses.set('People', page.url());
  const report = await card
    .getByRole('link', { name: /^Report/ })
    .first()
    .getAttribute('href');
  const ids = await card
    .getByRole('link', { name: /^Look back: .*Body-moving curl/ })
    .evaluateAll((links) => links.map((link) => link.getAttribute('href')?.split('/').at(-1) ?? ''));
  const root = page.url().split('#')[0] ?? '';
  addresses.set('Report', `${root}${report ?? ''}`);
  addresses.set('Look back', `${root}#/look-back/${ids[0] ?? ''}`);
  addresses.set('Compare', `${root}#/compare/${ids[0] ?? ''}/${ids[1] ?? ''}`);
}, 120_000);

afterAll(async () => {
  await opened.app.close();
});

/** Goes to a screen and waits until nothing of it is on its way. */
async function show(name: string): Promise<void> {
  await page.goto(addresses.get(name) ?? '');
  await page.getByRole('heading', { level: 1 }).waitFor();
  const last = {
    Exchange: 'Take everything along, or erase it',
    People: 'Who needs a look first',
    Report: 'Signature',
    Compare: 'Figures in step',
    'Look back': 'Compare',
  }[name];
  await page.getByRole('heading', { name: last ?? '', exact: true }).waitFor();
  await expect.poll(() => page.getByRole('progressbar').count()).toBe(0);
}

/** What is wider than the window. */
async function overflowing(width: number): Promise<string[]> {
  await page.setViewportSize({ width, height: 800 });
  return page.evaluate((inner) => {
    const { scrollWidth } = document.documentElement;
    if (scrollWidth <= inner) return [];
    const wide = [...document.querySelectorAll('main *')].filter(
      (element) => element.getBoundingClientRect().right > inner + 1,
    );
    return [
      `${scrollWidth} px in ${inner} px`,
      ...wide.slice(0, 5).map(({ tagName, className }) => `${tagName} ${className}`),
    ];
  }, width);
}

/** The controls in sight that the keyboard should stop at, and those that it did stop at, by number in the page. */
async function tabStops(): Promise<{ readonly wanted: number; readonly missed: readonly string[] }> {
  const wanted = await page.evaluate(() => {
    const all = [
      ...document.querySelectorAll<HTMLElement>(
        'a[href], button:not(:disabled), input:not(:disabled), select:not(:disabled), textarea, summary, [tabindex="0"]',
      ),
    ].filter((element) => element.checkVisibility() && element.tabIndex >= 0 && !element.closest('[inert]'));
    // Of a group of radios the keyboard stops at the chosen one; arrows move in it.
    const stops = all.filter(
      (element) => !(element instanceof HTMLInputElement && element.type === 'radio' && !element.checked),
    );
    for (const [index, element] of stops.entries()) element.dataset['stop'] = String(index);
    (document.activeElement as HTMLElement | null)?.blur();
    window.scrollTo(0, 0);
    return stops.length;
  });
  const reached = new Set<string>();
  for (let press = 0; press < wanted + 10; press++) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate(() => {
      const { activeElement } = document;
      return activeElement instanceof HTMLElement ? (activeElement.dataset['stop'] ?? null) : null;
    });
    if (at !== null) reached.add(at);
  }
  const missed = await page.evaluate(
    (known) =>
      [...document.querySelectorAll<HTMLElement>('[data-stop]')]
        .filter(({ dataset }) => !known.includes(dataset['stop'] ?? ''))
        .map((element) => element.outerHTML.slice(0, 120)),
    [...reached],
  );
  return { wanted, missed };
}

test.each(['People', 'Exchange', 'Compare', 'Report', 'Look back'])(
  '%s keeps to the rules, fits its window, and is gone through by keyboard',
  async (name) => {
    await show(name);
    expect(await axeFindings(page)).toEqual([]);
    expect(await overflowing(390)).toEqual([]);
    expect(await overflowing(1280)).toEqual([]);
    const { wanted, missed } = await tabStops();
    expect(wanted).toBeGreaterThan(8);
    expect(missed).toEqual([]);
    console.log(`${name}: ${wanted} stops of the keyboard.`);
  },
  60_000,
);

test('the page for the patient is reached by arrow keys, keeps to the rules and fits', async () => {
  await show('Report');
  await page.getByRole('radio', { name: 'The file' }).focus();
  await page.keyboard.press('ArrowRight');
  await page.getByRole('heading', { name: 'When to stop' }).waitFor();
  expect(await axeFindings(page)).toEqual([]);
  expect(await overflowing(390)).toEqual([]);
  expect(await overflowing(1280)).toEqual([]);
}, 60_000);

test('Look back leads to a comparison of two repetitions by keyboard alone', async () => {
  await show('Look back');
  const first = page.getByRole('combobox', { name: 'This', exact: true });
  await first.focus();
  await page.keyboard.press('End');
  const chosen = await first.locator('option:checked').textContent();
  await page.getByRole('combobox', { name: 'With', exact: true }).focus();
  await page.keyboard.press('End');
  await page.keyboard.press('ArrowUp');
  await page.getByRole('link', { name: 'Compare these two' }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Figures in step' }).waitFor();
  const shown = await page
    .locator('main select')
    .evaluateAll((all) =>
      all.map((select) =>
        select instanceof HTMLSelectElement ? select.selectedOptions[0]?.textContent : '',
      ),
    );
  expect(`${shown[2] ?? ''}, ${shown[3] ?? ''}`).toBe(chosen);
  expect(shown[1]).toMatch(/^repetition \d$/);
  await page
    .getByText(/^nothing is said: what may be chance is known of means/)
    .first()
    .waitFor();
}, 60_000);
