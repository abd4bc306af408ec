import { createServer, get, type Server } from 'node:http';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { buildSizes } from '../../../scripts/sizes/build-sizes.ts';
import { openSite, untilKept, visit, type Site } from './open-site.ts';

let site: Site;
/** Passes everything on to the site, except model files: those are noted and never answered. */
let holdingBack: Server;
let url: string;
/** Paths in the order in which they were asked for. */
let asked: string[];

beforeAll(async () => {
  site = await openSite();
  holdingBack = createServer((request, response) => {
    const path = request.url ?? '/';
    asked.push(path);
    if (path.startsWith('/models/')) return;
    get(new URL(path, site.url), (answer) => {
      response.writeHead(answer.statusCode ?? 500, answer.headers);
      answer.pipe(response);
    });
  });
  await new Promise<void>((done) => holdingBack.listen(0, '127.0.0.1', done));
  const address = holdingBack.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  url = `http://localhost:${String(address.port)}/`;
});
afterAll(async () => {
  await site.close();
  holdingBack.closeAllConnections();
  holdingBack.close();
});
beforeEach(() => {
  asked = [];
});

const modelsAsked = (): string[] => asked.filter((path) => path.startsWith('/models/'));

/** Does on the first screen what a person does there, and visits the sessions. */
async function useFirstScreen(page: Page): Promise<void> {
  await page.getByRole('radio', { name: 'Your left arm' }).check();
  await page.getByRole('radio', { name: 'Body-moving curl' }).check();
  await page.getByRole('radio', { name: 'A clip' }).check();
  await page.getByText('Choose a clip').waitFor();
  await page.getByRole('link', { name: 'Sessions' }).first().click();
  await page.getByRole('heading', { level: 1, name: 'Sessions' }).waitFor();
  await page.getByRole('link', { name: 'Begin' }).first().click();
}

describe('the first screen', () => {
  it('is there without any model, after the script that npm run sizes weighs and no other', async () => {
    const page = await (await site.browser.newContext({ serviceWorkers: 'block' })).newPage();
    await visit(page, url);
    await page.waitForLoadState('networkidle');
    const code = asked.filter((path) => /\.(js|css)$/.test(path)).map((path) => path.slice(1));
    expect(code.toSorted()).toEqual([...buildSizes(site.folder).firstFiles].toSorted());
    await useFirstScreen(page);
    expect(modelsAsked()).toEqual([]);
    await page.context().close();
  });

  it('can be used while no model comes; they are asked for after the app is kept, one at a time', async () => {
    const page = await (await site.browser.newContext()).newPage();
    await visit(page, url);
    expect(modelsAsked()).toEqual([]);
    await untilKept(page);
    await expect.poll(modelsAsked, { timeout: 20_000 }).toHaveLength(1);
    expect(asked.findLastIndex((path) => path.startsWith('/assets/'))).toBeLessThan(
      asked.findIndex((path) => path.startsWith('/models/')),
    );
    await useFirstScreen(page);
    expect(modelsAsked()).toHaveLength(1);
    await page.context().close();
  });

  it('asks for no model in advance where the browser is told to save data', async () => {
    const page = await (await site.browser.newContext()).newPage();
    await page.addInitScript(() => {
      Object.defineProperty(Navigator.prototype, 'connection', { get: () => ({ saveData: true }) });
    });
    await visit(page, url);
    await untilKept(page);
    await page.waitForTimeout(4000);
    expect(modelsAsked()).toEqual([]);
    await page.context().close();
  });
});
