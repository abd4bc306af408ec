import { join } from 'node:path';
import type { Page } from 'playwright-core';
import type { Look } from '../../tests/helpers/session-walk.ts';
import { readTexts } from './read-text.ts';
import { SCREENS, type Reading, type ShownScreen } from './visual-angle.ts';

/** What is read from three metres, by its place on the screen; "Not measured" takes two lines and is read like a cue. */
const READ = {
  figure: '.live .digits, .live .state:not(.two) .word, .clock .figure',
  cue: '.strip .cue, .live .state.two .word, .rating h2, .rating .steps .figure, .rest .next',
  label: '.demonstration figcaption .mark',
} as const;
const KINDS = ['figure', 'cue', 'label'] as const;
const THEMES = ['light', 'dark'] as const;

/** Looks at each state in every window and theme: photographs it, and reads what is drawn where it is read from afar. */
export function lookerOf(page: Page, readings: Reading[], out: string): Look {
  return async ({ name, isFar, keep }) => {
    for (const screen of Object.keys(SCREENS) as ShownScreen[]) {
      const { width, height } = SCREENS[screen];
      await page.setViewportSize({ width, height });
      for (const theme of THEMES) {
        await page.emulateMedia({ colorScheme: theme });
        await page.locator(`html[data-theme=${theme}]`).waitFor();
        await keep();
        // Colours and sizes change over a moment; what is judged is what stays.
        await page.waitForTimeout(200);
        const file = `${name}-${screen.replaceAll(' ', '-')}-${theme}.png`;
        await page.screenshot({ path: join(out, file) });
        if (!isFar) continue;
        for (const kind of KINDS)
          for (const drawn of await readTexts(page, READ[kind]))
            readings.push({ screen, theme, state: name, kind, ...drawn });
      }
    }
    const { width, height } = SCREENS.laptop;
    await page.setViewportSize({ width, height });
    await page.emulateMedia({ colorScheme: 'light' });
  };
}
