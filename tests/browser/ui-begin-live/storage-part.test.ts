import { fileURLToPath } from 'node:url';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { axeFindings as axeFindingsNow } from '../axe-findings.ts';
import { axeFindings, openApp, type OpenApp } from './open-app.ts';

const RECORD = fileURLToPath(new URL('../../fixtures/records/v6-body-curl.record.json', import.meta.url));
const PASSPHRASE = 'four invented words here';

let app: OpenApp;
let page: Page;
let context: BrowserContext;

beforeAll(async () => {
  app = await openApp([]);
  ({ page, context } = await app.openPage());
});
afterAll(() => app.close());

/** Presses a control by keyboard alone. */
async function press(
  role: 'button' | 'checkbox' | 'link',
  name: string | RegExp,
  key = 'Enter',
): Promise<void> {
  await page.getByRole(role, { name }).first().focus();
  await page.keyboard.press(key);
}

/** Chooses a file in the picker that a button opens. */
async function pick(button: string, path: string): Promise<void> {
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), press('button', button)]);
  await chooser.setFiles(path);
}

/** Writes what nobody can read in the place of the session. */
function damageSessions(): Promise<void> {
  return page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('forearmed');
        opening.onerror = () => reject(new Error('not opened'));
        opening.onsuccess = () => {
          const change = opening.result.transaction(['sessions', 'listings'], 'readwrite');
          change.objectStore('listings').clear();
          const sessions = change.objectStore('sessions');
          sessions.openCursor().onsuccess = ({ target }) => {
            const cursor = (target as IDBRequest<IDBCursorWithValue | null>).result;
            if (cursor === null) return;
            cursor.update({ ...(cursor.value as object), header: { format: 'nothing' } });
            cursor.continue();
          };
          change.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      }),
  );
}

it('backup with the key, repair and restoring go by keyboard alone, and axe-core has nothing to say of them', async () => {
  await page.goto(`${app.url}#/exchange`);
  await press('button', 'Make a key');
  await page.getByRole('button', { name: /^Save as a file: the key/ }).waitFor();
  await page.goto(`${app.url}#/sessions`);
  await page.getByRole('heading', { name: 'Storage', exact: true }).waitFor();
  await pick('Open a session record', RECORD);
  await page.waitForURL(/look-back/);
  await page.goto(`${app.url}#/sessions`);

  await press('checkbox', /with the secret key/, 'Space');
  await page.getByLabel('Passphrase for the key in the backup').focus();
  await page.keyboard.type(PASSPHRASE);
  expect(await axeFindingsNow(page)).toEqual([]);
  const [backup] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  expect(backup.suggestedFilename()).toMatch(/\.backup\.jsonl\.gz$/);

  await damageSessions();
  await page.reload();
  await page.getByText(/1 cannot be read/).waitFor();
  expect(await axeFindingsNow(page)).toEqual([]);
  await press('button', 'Set them aside');
  await page.getByText('1 set aside.', { exact: false }).first().waitFor();
  const [aside] = await Promise.all([
    page.waitForEvent('download'),
    press('button', 'Download what is set aside'),
  ]);
  expect(aside.suggestedFilename()).toMatch(/set-aside/);

  await page.goto(`${app.url}#/exchange`);
  await press('button', /^Remove the key/);
  await page.getByRole('button', { name: /^Remove the key/ }).waitFor({ state: 'detached' });
  await page.goto(`${app.url}#/sessions`);
  await pick('Restore a backup', await backup.path());
  await press('button', 'Restore it without the keys');
  await page.getByText(/^Restored: 1 added.* 1 key left out, because the passphrase is missing/).waitFor();
  await pick('Restore a backup', await backup.path());
  await page.getByText(/holds 1 session, 1 locked key/).waitFor();
  await page.getByLabel('Passphrase of the keys in it').focus();
  await page.keyboard.type(PASSPHRASE);
  expect(await axeFindings(page)).toEqual([]);
  await page.keyboard.press('Enter');
  // The key; session and preferences are the same.
  await page.getByText(/^Restored: 1 added, 2 already here\. /).waitFor();
  await press('button', 'Check everything');
  await page.getByText('1 session, every part read. Everything fits together.', { exact: false }).waitFor();
  expect(app.policyViolations()).toEqual([]);
  await context.close();
});
