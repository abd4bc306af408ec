import type { Locator, Page } from 'playwright-core';
import { CASELOAD_NOW } from '../../helpers/caseload.ts';
import { openApp, type OpenApp } from '../../browser/ui-begin-live/open-app.ts';

/** The built app on a therapist's machine, on the Monday morning on which the made scenario is looked at. */
export interface TherapistApp {
  readonly app: OpenApp;
  readonly page: Page;
}

/** Opens the app with an empty store. */
export async function openTherapistApp(): Promise<TherapistApp> {
  const app = await openApp([]);
  const { page } = await app.openPage({ timezoneId: 'Europe/Vienna', acceptDownloads: true });
  await page.clock.setFixedTime(new Date(CASELOAD_NOW));
  await page.reload();
  await page.getByRole('heading', { level: 1 }).waitFor();
  return { app, page };
}

/** A file that is chosen in the browser. */
export interface ChosenFile {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

/** Chooses packages on Exchange. */
export async function choosePackages(
  page: Page,
  files: readonly ChosenFile[],
  click: (target: Locator) => Promise<void> = (target) => target.click(),
): Promise<void> {
  const chooser = page.waitForEvent('filechooser');
  await click(page.getByRole('button', { name: 'Choose packages' }));
  await (await chooser).setFiles([...files]);
}

/** The cards of the list of people, in its order. */
export function cardsOf(page: Page): Locator {
  return page.locator('section[aria-labelledby=people-heading] > ol > li');
}

export const mainLinks = (page: Page): Locator => page.getByRole('navigation', { name: 'Main' });
