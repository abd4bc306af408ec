import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { readFrameStrip } from '../../tests/helpers/frame-strip.ts';
import type { Pair } from './pair.ts';

/** Pictures of the two sides may differ by so many: the patient's machine keeps every second one. */
const MOST_FRAMES_APART = 2;
const WIDTHS = [390, 1280, 1920] as const;

/** Holds the picture still, draws an arrow by keyboard alone and points a joint out; whether both sides show the same. */
export async function drawTogether({ therapist, patient }: Pair, folder: string): Promise<boolean> {
  mkdirSync(folder, { recursive: true });
  const press = (name: string | RegExp) => therapist.getByRole('button', { name }).first().press('Enter');
  await photograph('running');
  await press('Hold the picture still');
  await patient.getByText('The picture is held still on both sides.').waitFor();
  await press('Arrow');
  const layer = therapist.getByRole('button', { name: /^The picture: place/ });
  // The first press brings the crosshair up in the middle.
  await layer.press('Enter');
  await layer.press('Enter');
  for (let step = 0; step < 4; step += 1) await layer.press('Shift+ArrowUp');
  await layer.press('Enter');
  await press(/^Show to both: Arrow to/);
  await patient
    .getByText(/Arrow to the/)
    .first()
    .waitFor();
  await press(/^elbow$/);
  await patient.getByText('Watch the elbow').first().waitFor();
  const [here, there] = [await frozenOn(therapist), await frozenOn(patient)];
  const isSame = here !== null && there !== null && Math.abs(here - there) <= MOST_FRAMES_APART;
  console.log(
    `${isSame ? 'right' : 'WRONG'}  held still: picture ${String(here)} at the therapist, ${String(there)} at the patient`,
  );
  await photograph('drawn');
  await press('Let the picture run');
  await patient.getByText('The picture is held still on both sides.').waitFor({ state: 'detached' });
  return isSame;

  async function photograph(moment: string): Promise<void> {
    for (const [page, side] of [
      [therapist, 'therapist'],
      [patient, 'patient'],
    ] as const)
      for (const width of WIDTHS)
        for (const colorScheme of ['light', 'dark'] as const) {
          await page.emulateMedia({ colorScheme });
          await page.setViewportSize({ width, height: width === 390 ? 844 : Math.round(width * 0.6) });
          await page.screenshot({
            path: join(folder, `${moment}-${side}-${String(width)}-${colorScheme}.png`),
            fullPage: true,
          });
        }
  }
}

async function frozenOn(page: Page): Promise<number | null> {
  const cells = await page.evaluate<Parameters<typeof readFrameStrip>[0]>(`stripOf('.frozen canvas')`);
  return readFrameStrip(cells);
}
