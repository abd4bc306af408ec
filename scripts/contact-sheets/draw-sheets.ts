import { writeFileSync } from 'node:fs';
import { join, parse } from 'node:path';
import { findBrowser, launchBrowser } from '../browser.mjs';
import { serveFolder } from '../static-server.mjs';
import { drawSheet, type SheetFrame } from './draw-sheet.ts';

/** Frames of a clip to be drawn. */
interface SheetJob {
  /** The clip's file. */
  readonly path: string;
  /** Begins the names of its sheets. */
  readonly name: string;
  readonly frames: readonly SheetFrame[];
}

/** Frames on one sheet. */
const ON_A_SHEET = 20;
const DIST = join(import.meta.dirname, '../../dist');

/**
 * Draws sheets of clips into a folder, NAME-01.jpg and on, and tells each file's name.
 * @throws Error when there is no browser, or a clip does not play.
 */
export async function drawSheets(
  jobs: readonly SheetJob[],
  out: string,
  tell: (file: string) => void,
): Promise<void> {
  const browserPath = findBrowser();
  if (browserPath === null) throw new Error('No Chrome, Chromium or Edge was found.');
  const addresses = jobs.map(({ path }, i) => `/sheet/${String(i)}${parse(path).ext}`);
  const files = new Map(jobs.map(({ path }, i) => [addresses[i] ?? '', path]));
  const server = await serveFolder(DIST, { files });
  const browser = await launchBrowser(browserPath);
  try {
    const page = await browser.newPage();
    // The compiler of these commands marks functions with a helper of this name, which the page lacks.
    await page.addInitScript('globalThis.__name = (named) => named');
    await page.goto(`${server.url}measure.html`);
    for (const [i, { name, frames }] of jobs.entries())
      for (let first = 0, sheet = 1; first < frames.length; first += ON_A_SHEET, sheet++) {
        const url = new URL(addresses[i] ?? '', server.url).href;
        const some = frames.slice(first, first + ON_A_SHEET);
        const picture = await page.evaluate(drawSheet, { url, frames: some });
        const file = join(out, `${name}-${String(sheet).padStart(2, '0')}.jpg`);
        writeFileSync(file, Buffer.from(picture, 'base64'));
        tell(file);
      }
  } finally {
    await browser.close();
    await server.close();
  }
}
