import { openApp } from '/tmp/me5/tests/browser/ui-begin-live/open-app.ts';
import { planFragment } from '/tmp/me5/src/core/plan/plan-link.ts';
import { inventedPlan } from '/tmp/me5/tests/helpers/plan-days.ts';
const app = await openApp([]);
let bad = 0;
for (let i = 0; i < 12; i++) {
  const { page, context } = await app.openPage();
  page.on('pageerror', (e) => console.log('ERR', e.message));
  if (i % 2) { const c = await context.newCDPSession(page); await c.send('Emulation.setCPUThrottlingRate', { rate: 8 }); }
  await page.goto(`${app.url}#${planFragment(inventedPlan())}`);
  await page.getByRole('button', { name: 'Keep it and follow it here' }).click();
  await page.getByRole('link', { name: 'Begin' }).click();
  try { await page.getByRole('heading', { level: 1, name: 'Today' }).waitFor({ timeout: 8000 }); }
  catch { bad++; console.log(i, page.url(), (await page.locator('main').innerText()).slice(0, 200)); await page.screenshot({ path: `/tmp/race-${i}.png` }); }
  await context.close();
}
console.log('bad', bad); await app.close();
