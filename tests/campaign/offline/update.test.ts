import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFindings, FAKE_CAMERA } from '../../browser/ui-begin-live/open-app.ts';
import { openSite, untilKept, visit, type Site } from '../../browser/offline/open-site.ts';

/** Loading the network on a busy machine without a GPU. */
const PATIENCE_MS = 60_000;
const NOTICE = 'A new version is ready.';

let site: Site;
let profile: BrowserContext;
beforeAll(async () => {
  site = await openSite(FAKE_CAMERA);
  profile = await site.browser.newContext();
});
afterAll(() => site.close());

declare global {
  interface Window {
    /** Gone when the page is loaded again. */
    loadedOnce?: boolean;
  }
}

/** Makes what is served another build: its first page says so, and its worker knows that page by its hash. */
function serveBuild(name: string): void {
  const page = join(site.folder, 'index.html');
  const worker = join(site.folder, 'service-worker.js');
  const old = readFileSync(page);
  const next = Buffer.from(
    old.toString().replace(/<html lang="en"[^>]*>/, `<html lang="en" data-build="${name}">`),
  );
  const sha256 = (content: Buffer, as: 'hex' | 'base64'): string =>
    createHash('sha256').update(content).digest(as);
  const text = readFileSync(worker, 'utf8');
  const version = /version:.([0-9a-f]{16})/.exec(text)?.[1] ?? 'unknown';
  const patched = text
    .replaceAll(sha256(old, 'base64'), sha256(next, 'base64'))
    .replaceAll(sha256(old, 'hex').slice(0, 16), sha256(next, 'hex').slice(0, 16))
    .replaceAll(version, createHash('sha256').update(name).digest('hex').slice(0, 16));
  expect(patched).not.toBe(text);
  writeFileSync(page, next);
  writeFileSync(worker, patched);
}

const buildOf = (page: Page): Promise<string | undefined> =>
  page.evaluate(() => document.documentElement.dataset['build']);

async function openKept(): Promise<Page> {
  const page = await profile.newPage();
  await visit(page, site.url);
  await untilKept(page);
  await page.evaluate(() => {
    window.loadedOnce = true;
  });
  return page;
}

/** Looks for a new version, as the browser does at each start, and waits until it is ready. */
async function lookForUpdate(page: Page): Promise<void> {
  await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
  const isWaiting = (): Promise<boolean> =>
    page.evaluate(async () => (await navigator.serviceWorker.ready).waiting?.state === 'installed');
  await expect.poll(isWaiting, { timeout: PATIENCE_MS }).toBe(true);
}

async function openCamera(page: Page): Promise<void> {
  await page.getByRole('radio', { name: 'Your left arm' }).check();
  await page.getByRole('button', { name: 'Open the camera' }).click();
  await page.getByText('Step into view of the camera').waitFor({ timeout: PATIENCE_MS });
}

describe('a new version that comes while a set is recorded', () => {
  it('interrupts nothing, is offered afterwards, and is loaded once when it is taken', async () => {
    serveBuild('A');
    const page = await openKept();
    expect(await buildOf(page)).toBe('A');
    await page.getByRole('button', { name: /^Hold near a right angle/ }).click();
    await page.waitForFunction(
      () => /^\d+$/.test(document.querySelector('.digits')?.textContent ?? ''),
      null,
      { timeout: PATIENCE_MS },
    );

    serveBuild('B');
    await lookForUpdate(page);
    await page.waitForTimeout(1000);
    expect(await page.getByText(NOTICE).count()).toBe(0);
    await page.getByRole('button', { name: 'Stop here' }).click();
    // The set is kept, but it is still asked about: that session is not over.
    await page.getByRole('heading', { name: 'Set 1 is kept' }).waitFor({ timeout: PATIENCE_MS });
    expect(await page.getByText(NOTICE).count()).toBe(0);
    expect(await page.evaluate(() => window.loadedOnce)).toBe(true);

    await page.getByRole('button', { name: 'Look back' }).click();
    await page.getByText(NOTICE).waitFor();
    expect(await page.evaluate(() => window.loadedOnce)).toBe(true);
    expect(await buildOf(page)).toBe('A');
    expect(await axeFindings(page)).toEqual([]);

    let loads = 0;
    page.on('load', () => (loads += 1));
    await page.getByRole('button', { name: 'Load it now' }).click();
    await page.waitForFunction(() => document.documentElement.dataset['build'] === 'B');
    await page.getByRole('heading', { level: 1, name: 'Look back' }).waitFor();
    await page.waitForTimeout(500);
    expect(loads).toBe(1);
    expect(await page.getByText(NOTICE).count()).toBe(0);
    await page.close();
  });
});

describe('a new version while another window records', () => {
  it('is not taken, and says why; afterwards it is, and the other window is not loaded again', async () => {
    const recording = await openKept();
    const idle = await openKept();
    await openCamera(recording);
    serveBuild('C');
    await lookForUpdate(idle);
    await idle.getByRole('button', { name: 'Load it now' }).click();
    await idle.getByText('A session is under way in another window').waitFor();
    expect(await buildOf(idle)).toBe('B');
    expect(await recording.evaluate(() => window.loadedOnce)).toBe(true);

    await recording.getByRole('button', { name: 'Close the source' }).click();
    await recording.getByText(NOTICE).waitFor();
    await idle.getByRole('button', { name: 'Load it now' }).click();
    await idle.waitForFunction(() => document.documentElement.dataset['build'] === 'C');
    expect(await recording.evaluate(() => window.loadedOnce)).toBe(true);
    // Its later screens are of the build that it runs, and still there without a server.
    await site.disconnect();
    await recording.getByRole('link', { name: 'Sessions' }).first().click();
    await recording.getByRole('heading', { level: 1, name: 'Sessions' }).waitFor();
    expect(await recording.evaluate(() => window.loadedOnce)).toBe(true);
    await site.reconnect();
  });
});

describe('a first page that is not the one that the worker knows', () => {
  it('is never kept: the earlier version stays', async () => {
    const page = await openKept();
    serveBuild('D');
    writeFileSync(join(site.folder, 'index.html'), '<!doctype html><h1>not ours</h1>');
    const outcome = await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready;
      await registration.update();
      const worker = registration.installing;
      if (worker === null) return registration.waiting === null ? 'none' : 'waiting';
      return new Promise((resolve) =>
        worker.addEventListener('statechange', () => resolve(worker.state), { once: true }),
      );
    });
    expect(outcome).toBe('redundant');
    await visit(page, site.url);
    expect(await buildOf(page)).toBe('C');
  });
});
