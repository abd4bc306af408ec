import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SECURITY_HEADERS } from '../../../scripts/security-policy.mjs';
import { FAKE_CAMERA } from '../ui-begin-live/open-app.ts';
import { openSite, visit, type Site } from './open-site.ts';

let site: Site;
beforeAll(async () => {
  site = await openSite(FAKE_CAMERA);
});
afterAll(() => site.close());

/** Loading the network and measuring on a busy machine without a GPU. */
const PATIENCE_MS = 60_000;

declare global {
  interface Window {
    reportViolation?: (violation: string) => void;
  }
}

/** A page that notes whatever the policy forbids, as the document's event and as the browser's own complaint. */
async function openWatched(): Promise<{ page: Page; violations: readonly string[] }> {
  const page = await (await site.browser.newContext()).newPage();
  const violations: string[] = [];
  await page.exposeFunction('reportViolation', (violation: string) => violations.push(violation));
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI, sourceFile }) =>
      window.reportViolation?.(`${violatedDirective}: ${blockedURI} in ${sourceFile}`),
    );
  });
  page.on('console', (message) => {
    if (/content security policy|permissions.policy|unrecognized feature/i.test(message.text()))
      violations.push(message.text());
  });
  return { page, violations };
}

describe('the policy of what pages may load and do', () => {
  it('is sent with pages and scripts, and stands in the pages themselves', async () => {
    for (const path of ['', 'measure.html', 'service-worker.js']) {
      const response = await fetch(site.url + path);
      for (const [name, value] of Object.entries(SECURITY_HEADERS))
        expect(response.headers.get(name)).toBe(value);
    }
    const policy = SECURITY_HEADERS['Content-Security-Policy'];
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/'unsafe-inline'|'unsafe-eval'|\*|http:|https:/);
    expect(/script-src ([^;]*)/.exec(policy)?.[1]).toBe("'self' 'wasm-unsafe-eval'");
    for (const path of ['', 'measure.html']) {
      const html = await (await fetch(site.url + path)).text();
      expect(html).toContain('http-equiv="Content-Security-Policy"');
      expect(html).not.toMatch(/<script(?![^>]*\ssrc=)[^>]*>|<style|\sstyle=|\son\w+=/);
    }
  });

  it('notices what it forbids: this test could fail', async () => {
    const { page, violations } = await openWatched();
    await visit(page, site.url);
    await page.evaluate(() => {
      document.body.setAttribute('style', 'color: red');
      const script = document.createElement('script');
      script.src = URL.createObjectURL(new Blob(['1']));
      document.head.append(script);
    });
    await expect.poll(() => violations.join('\n')).toMatch(/script-src[^]*blob|blob[^]*script-src/);
    expect(violations.join('\n')).toMatch(/style-src/);
    await page.context().close();
  });

  it('forbids nothing that the screens do, from a demo clip to the kept session', async () => {
    const { page, violations } = await openWatched();
    await visit(page, site.url);
    await page.getByRole('button', { name: /^Hold near a right angle/ }).click();
    await page.getByRole('heading', { name: 'Set 1 is kept' }).waitFor({ timeout: PATIENCE_MS });
    await page.getByRole('button', { name: 'Look back' }).click();
    await page.getByRole('heading', { level: 1, name: 'Look back' }).waitFor();
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Download the session record (JSON)' }).click();
    await download;
    await page.getByRole('link', { name: 'Sessions' }).first().click();
    await page.getByRole('heading', { level: 1, name: 'Sessions' }).waitFor();
    await page.getByRole('link', { name: 'Begin' }).first().click();
    await page.getByRole('radio', { name: 'Your left arm' }).check();
    await page.getByRole('button', { name: 'Open the camera' }).click();
    await page.getByText('Step into view of the camera').waitFor({ timeout: PATIENCE_MS });
    expect(violations).toEqual([]);
    await page.context().close();
  });
});
