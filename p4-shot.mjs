import { chromium } from 'playwright-core';
import { readdirSync } from 'node:fs';
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
const page = await context.newPage();
page.on('pageerror', (e) => console.log('ERR', e.message));
page.on('console', (m) => { if (m.type() === 'error') console.log('CON', m.text()); });
await page.goto('http://127.0.0.1:5194/#/progress');
await page.getByRole('heading', { level: 1 }).waitFor();
const files = readdirSync('/tmp/p4-caseload').slice(0, Number(process.argv[2] ?? 12)).map((f) => '/tmp/p4-caseload/' + f);
for (const f of files) {
  await page.locator('input[type=file]').first().setInputFiles(f);
  await page.getByText(/training days? (was|were)? ?|taken in|Added|added/i).first().waitFor({ timeout: 15000 }).catch(() => console.log('no note', f));
  await page.waitForTimeout(300);
}
await page.goto('http://127.0.0.1:5194/#/sessions');
await page.getByRole('heading', { name: 'Who needs a look first' }).waitFor();
await page.getByText(/\d+ people/).first().waitFor();
for (const [w, t] of [[390, 'light'], [1280, 'light'], [1280, 'dark'], [1920, 'light']]) {
  await page.emulateMedia({ colorScheme: t });
  await page.setViewportSize({ width: w, height: 900 });
  await page.waitForTimeout(200);
  await page.screenshot({ path: `/tmp/p4-shots/people-${w}-${t}.png`, fullPage: true, clip: {x:0,y:0,width:w,height:2200} });
  console.log(w, await page.evaluate(() => document.documentElement.scrollWidth - innerWidth));
}
await context.storageState({ path: '/tmp/p4-shots/state.json' });
await browser.close();
