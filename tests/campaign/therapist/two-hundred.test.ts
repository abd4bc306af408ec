import { afterAll, beforeAll, expect, test } from 'vitest';
import { byNeed } from '../../../src/core/review/needs.ts';
import { planOf } from '../../../src/core/review/people.ts';
import { CASELOAD_NOW, handedOver, inventedCaseload, listOf } from '../../helpers/caseload.ts';
import { packageOf } from '../../helpers/caseload-packages.ts';
import {
  cardsOf,
  choosePackages,
  mainLinks,
  openTherapistApp,
  type ChosenFile,
  type TherapistApp,
} from './therapist-app.ts';

/* The made scenario, 200 sessions of 25 invented people, taken in at once and sorted by who needs a look first. */

let opened: TherapistApp;

beforeAll(async () => {
  opened = await openTherapistApp();
}, 60_000);

afterAll(async () => {
  await opened.app.close();
});

test('25 packages with 200 sessions come in at once, and the list is in the order of need', async () => {
  const { page } = opened;
  const people = inventedCaseload();
  const files: ChosenFile[] = [];
  for (const person of people)
    files.push({
      name: `${person.label}.zip`,
      mimeType: 'application/zip',
      buffer: await packageOf(person, { kind: 'open' }),
    });
  await mainLinks(page).getByRole('link', { name: 'Sessions' }).click();
  await page.getByRole('link', { name: 'Send and take in packages' }).click();
  const began = performance.now();
  await choosePackages(page, files);
  await expect
    .poll(() => page.getByText(/^Invented \d\d: \d+ new\.$/).count(), { timeout: 120_000, interval: 100 })
    .toBe(people.length);
  const takenIn = performance.now();

  await mainLinks(page).getByRole('link', { name: 'Sessions' }).click();
  await page.getByText('25 people').waitFor();
  const shown = performance.now();
  console.log(
    `Taken in: 25 packages, 200 sessions, in ${((takenIn - began) / 1000).toFixed(1)} s; the list stood after ${((shown - takenIn) / 1000).toFixed(1)} s.`,
  );
  const wanted = byNeed(listOf(people.map(handedOver)), CASELOAD_NOW).map(
    ({ person }) => planOf(person)?.person.label,
  );
  expect(await cardsOf(page).locator('h3').allTextContents()).toEqual(wanted);
  const first = cardsOf(page).first();
  await first.getByText('Yes to a safety question').waitFor();

  const searched = performance.now();
  await page.getByRole('searchbox').fill(wanted.at(-1) ?? '');
  await expect.poll(() => cardsOf(page).count(), { interval: 20 }).toBe(1);
  console.log(`A search: ${(performance.now() - searched).toFixed(0)} ms.`);
  expect(opened.app.policyViolations()).toEqual([]);
}, 180_000);
