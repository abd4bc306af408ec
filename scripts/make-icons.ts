/**
 * `npm run icons`: draws the PNG icons of public/site.webmanifest from public/icon.svg, in the browser. The maskable ones
 * have no round corners and keep the drawing inside the middle 80 %, which every system shows
 * (https://www.w3.org/TR/appmanifest/#icon-masks).
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { ROOT } from './bootstrap.mjs';
import { findBrowser, launchBrowser } from './browser.mjs';

const SIZES_PX = [192, 512];
const BACKGROUND = /<rect[^>]*fill="(#[0-9a-f]{6})"[^>]*\/>/;

const path = findBrowser();
if (path === null) throw new Error('npm run icons needs Chrome, Chromium or Edge.');
const drawn = await readFile(join(ROOT, 'public/icon.svg'), 'utf8');
const background = BACKGROUND.exec(drawn)?.[1];
if (background === undefined) throw new Error('public/icon.svg has no background rectangle with a colour.');
// The drawing's furthest point lies 31.6 of 64 from the middle; at three quarters it is inside the safe 25.6.
const inside = drawn
  .replace(
    BACKGROUND,
    `<rect width="64" height="64" fill="${background}"/><g transform="translate(8 8) scale(0.75)">`,
  )
  .replace('</svg>', '</g></svg>');

const browser = await launchBrowser(path);
try {
  const page = await browser.newPage();
  for (const sizePx of SIZES_PX) {
    await page.setViewportSize({ width: sizePx, height: sizePx });
    for (const [name, svg] of [
      ['icon', drawn],
      ['icon-maskable', inside],
    ] as const) {
      await page.setContent(`<style>*{margin:0}svg{display:block;width:100vw;height:100vh}</style>${svg}`);
      const png = await page.screenshot({ omitBackground: true });
      await writeFile(join(ROOT, 'public', `${name}-${String(sizePx)}.png`), png);
    }
  }
} finally {
  await browser.close();
}
