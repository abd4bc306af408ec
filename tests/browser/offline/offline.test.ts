import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../../scripts/bootstrap.mjs';
import { keptModels, openSite, untilKept, untilModelsKept, visit, type Site } from './open-site.ts';

const CLIP = join(ROOT, 'demo-clips', 'hold-drift.mp4');
const DAMAGED = 'A model file is damaged';
/** With which measuring starts in this browser, and the smaller network. */
const IN_ADVANCE = [
  'litert_wasm_internal.js',
  'litert_wasm_internal.wasm',
  'pose_landmark_full.tflite',
  'pose_landmark_lite.tflite',
  'pose_solution_packed_assets.data',
];
/** Loading the network and measuring on a busy machine without a GPU. */
const PATIENCE_MS = 60_000;

let site: Site;
/** One fresh profile through all steps, in order. */
let profile: BrowserContext;
beforeAll(async () => {
  site = await openSite();
  profile = await site.browser.newContext();
});
afterAll(() => site.close());

/** Visits the app anew, runs a check, closes the page. */
async function inPage(check: (page: Page) => Promise<void>): Promise<void> {
  const page = await profile.newPage();
  await visit(page, site.url);
  await check(page);
  await page.close();
}

async function openOwnClip(page: Page): Promise<void> {
  await page.getByRole('radio', { name: 'Your right arm' }).check();
  await page.getByRole('radio', { name: 'A clip' }).check();
  await page.locator('input[type=file]').setInputFiles(CLIP);
}

const openDemoClip = (page: Page): Promise<void> =>
  page.getByRole('button', { name: /^Hold near a right angle/ }).click();

async function untilMeasured(page: Page): Promise<void> {
  await page.waitForFunction(() => /^\d+$/.test(document.querySelector('.digits')?.textContent ?? ''), null, {
    timeout: PATIENCE_MS,
  });
}

/** Changes one bit in the middle of the kept copy of a model, or says whether the copy is the served file. */
function damageKept(page: Page, name: string): Promise<void> {
  return page.evaluate(async (wanted) => {
    const cache = await caches.open('models');
    const request = (await cache.keys()).find(({ url }) => new URL(url).pathname === `/models/${wanted}`);
    const kept = request === undefined ? undefined : await cache.match(request);
    if (request === undefined || kept === undefined) throw new Error(`${wanted} is not kept.`);
    const content = new Uint8Array(await kept.arrayBuffer());
    const middle = content.length >> 1;
    content[middle] = (content[middle] ?? 0) ^ 1;
    await cache.put(request, new Response(content, { headers: kept.headers }));
  }, name);
}

function sha256OfKept(page: Page, name: string): Promise<string> {
  return page.evaluate(async (wanted) => {
    const cache = await caches.open('models');
    const request = (await cache.keys()).find(({ url }) => new URL(url).pathname === `/models/${wanted}`);
    const kept = request === undefined ? undefined : await cache.match(request);
    const digest = new Uint8Array(
      await crypto.subtle.digest('SHA-256', (await kept?.arrayBuffer()) ?? new ArrayBuffer()),
    );
    return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
  }, name);
}

const manifest: { files: { name: string; sha256: string }[] } = JSON.parse(
  readFileSync(join(ROOT, 'models/manifest.json'), 'utf8'),
);
const FULL = 'pose_landmark_full.tflite';
const FULL_SHA256 = manifest.files.find(({ name }) => name === FULL)?.sha256;

describe('after one visit, in which only the first screen was seen', () => {
  it('keeps the app, and in the background the files with which measuring starts, and no other', async () => {
    await inPage(async (page) => {
      await untilKept(page);
      await untilModelsKept(page, IN_ADVANCE.length);
      await page.waitForTimeout(500);
      expect(await keptModels(page)).toEqual(IN_ADVANCE);
    });
  });

  it('opens all screens and measures a clip of this machine without a network', async () => {
    await site.disconnect();
    await profile.setOffline(true);
    await inPage(async (page) => {
      await page.getByRole('link', { name: 'Sessions' }).first().click();
      await page.getByRole('heading', { level: 1, name: 'Sessions' }).waitFor();
      await page.getByRole('link', { name: 'Begin' }).first().click();
      await openOwnClip(page);
      await untilMeasured(page);
      await page.getByRole('button', { name: 'Stop here' }).click();
      await page.getByRole('button', { name: 'Look back' }).click({ timeout: PATIENCE_MS });
      await page.getByRole('heading', { level: 1, name: 'Look back' }).waitFor();
    });
  });
});

describe('a kept model that was damaged', () => {
  it('gives its sentence while there is no network', async () => {
    await inPage(async (page) => {
      await damageKept(page, FULL);
      await openOwnClip(page);
      await page.getByText(DAMAGED).first().waitFor({ timeout: PATIENCE_MS });
    });
  });

  it('heals when there is one', async () => {
    await site.reconnect();
    await profile.setOffline(false);
    await inPage(async (page) => {
      expect(await sha256OfKept(page, FULL)).not.toBe(FULL_SHA256);
      await openDemoClip(page);
      await untilMeasured(page);
      expect(await sha256OfKept(page, FULL)).toBe(FULL_SHA256);
    });
  });
});

describe('a demo clip that was opened', () => {
  it('plays again without a network; one that was not gives a sentence', async () => {
    await site.disconnect();
    await profile.setOffline(true);
    await inPage(async (page) => {
      await openDemoClip(page);
      await untilMeasured(page);
      const parts = await page.evaluate(async () => {
        const part = await fetch('/demo-clips/hold-drift.mp4', { headers: { Range: 'bytes=4-7' } });
        return [part.status, part.headers.get('Content-Range'), await part.text()];
      });
      expect(parts).toEqual([206, expect.stringMatching(/^bytes 4-7\/\d+$/), 'ftyp']);
      const other = await page.evaluate(() =>
        fetch('/demo-clips/body-curl-row.mp4').then(
          () => 'there',
          () => 'not there',
        ),
      );
      expect(other).toBe('not there');
    });
    await site.reconnect();
    await profile.setOffline(false);
  });
});

describe('a model that is damaged on the server', () => {
  it('gives its sentence and is not kept', async () => {
    const path = join(site.folder, 'models', FULL);
    const content = readFileSync(path);
    content.writeUInt8(content.readUInt8(content.length >> 1) ^ 1, content.length >> 1);
    writeFileSync(path, content);
    const fresh = await site.browser.newContext();
    const page = await fresh.newPage();
    await visit(page, site.url);
    await untilKept(page);
    await openDemoClip(page);
    await page.getByText(DAMAGED).first().waitFor({ timeout: PATIENCE_MS });
    expect(await keptModels(page)).not.toContain(FULL);
    await fresh.close();
  });
});
