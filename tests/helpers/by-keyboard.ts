import type { Page } from 'playwright-core';

/** Steps of Tab after which a control counts as not reachable. */
const MOST_STEPS = 60;

/** Moves to a control by Tab alone. Throws when it is never reached. */
export async function tabTo(page: Page, name: string | RegExp): Promise<void> {
  const seen: string[] = [];
  for (let step = 0; step < MOST_STEPS; step++) {
    const label = await page.evaluate(() => {
      const at = document.activeElement;
      return at?.getAttribute('aria-label') ?? at?.textContent?.trim().replace(/\s+/g, ' ') ?? '';
    });
    if (typeof name === 'string' ? label === name : name.test(label)) return;
    seen.push(label.slice(0, 40));
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab never reached "${String(name)}", only: ${[...new Set(seen)].join(' | ')}.`);
}

/** Moves to a control by Tab alone and presses it. */
export async function pressByKeyboard(page: Page, name: string | RegExp): Promise<void> {
  await tabTo(page, name);
  await page.keyboard.press('Enter');
}
