/**
 * `npm run consult:alignment [-- --seconds N]`: the figure at the therapist's side against the received picture under it. A clip with known
 * joints, whose every picture carries its number, is the patient's camera; what stands on the therapist's canvas is read back: which picture
 * it shows, where the joints are drawn, which measured picture they are of. Then the same while the video is held back longer and longer. Ends
 * with 1 where the figure is more than a frame off. At last the picture is held still and drawn on by keyboard: both sides must show the same
 * picture. Screenshots of both go into out/consult.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import type { Page } from 'playwright-core';
import { clipTruthSchema } from '../demo-clips/generator/truth-schema.ts';
import { fakeCameraArgs, writeFakeCamera } from '../tests/helpers/fake-camera.ts';
import { FRAME_STRIP_PLACES } from '../tests/helpers/frame-strip.ts';
import { ROOT } from './bootstrap.mjs';
import { alignmentOf, spread, type Noted } from './consult/alignment-report.ts';
import { drawTogether } from './consult/draw-together.ts';
import { linkUp, openPair } from './consult/pair.ts';
import { readTable } from './demo-check/read-table.ts';

const { values } = parseArgs({ options: { seconds: { type: 'string', default: '30' } } });
const seconds = Number(values.seconds);
const CLIP = 'body-curl-strict';
/** Pictures of the camera a second: Chromium plays its file at this rate. */
const CAMERA_HZ = 30;
/** Steps by which the video comes later, and how long each lasts, milliseconds. */
const DELAY_STEP_MS = 100;
const DELAY_EVERY_MS = 3_000;
/** The largest error of the median look that is let pass, frames: half a frame would be the neighbour's picture. */
const LARGEST_FRAMES = { median: 0.5, p95: 1 };

const folder = mkdtempSync(join(tmpdir(), 'forearmed-alignment-'));
try {
  const truth = clipTruthSchema.parse(
    JSON.parse(readFileSync(join(ROOT, 'demo-clips', `${CLIP}.truth.json`), 'utf8')),
  );
  const table = readTable(join(ROOT, 'demo-clips', `${CLIP}.truth.csv`));
  const camera = join(folder, 'camera.mjpeg');
  const passSeconds = await writeFakeCamera(join(ROOT, 'demo-clips', `${CLIP}.mp4`), camera, true);
  const pair = await openPair(fakeCameraArgs(camera), { server: true });
  const { therapist, patient } = pair;
  try {
    for (const page of [therapist, patient]) {
      await page.addInitScript({ path: join(import.meta.dirname, 'consult', 'alignment-page.mjs') });
      await page.addInitScript(`noted.cells = ${JSON.stringify(FRAME_STRIP_PLACES)}`);
    }
    await linkUp(pair, { by: 'link', delaySeconds: 0 });
    await therapist.getByRole('radio', { name: 'Body-moving curl' }).check();
    await therapist.getByRole('radio', { name: truth.side === 'left' ? 'Left arm' : 'Right arm' }).check();
    await therapist.getByRole('button', { name: 'Ask for this' }).click();
    await patient.getByRole('button', { name: 'Agree' }).click();
    await therapist.getByText('Figure and numbers belong to the picture').waitFor();
    await therapist.evaluate('watchCanvas()');
    await therapist.waitForTimeout(seconds * 1000);
    await report('as it comes');
    let delayMs = 0;
    for (let past = 0; past < seconds * 1000; past += DELAY_EVERY_MS) {
      delayMs += DELAY_STEP_MS;
      await therapist.evaluate(`delayPicture(${String(delayMs)})`);
      await therapist.waitForTimeout(DELAY_EVERY_MS);
    }
    await report(`with the video held back from ${String(DELAY_STEP_MS)} to ${String(delayMs)} ms`);
    await therapist.evaluate('delayPicture(null)');
    if (!(await drawTogether(pair, join(ROOT, 'out', 'consult')))) process.exitCode = 1;
  } finally {
    await pair.close();
  }

  async function report(what: string): Promise<void> {
    const found = alignmentOf(
      { patient: await notedBy(patient), therapist: await notedBy(therapist) },
      { table, side: truth.side, passFrames: Math.round(passSeconds * CAMERA_HZ) },
    );
    console.log(
      `${what}: ${String(found.looks)} looks, ${(100 * found.figureShare).toFixed(0)} % with the figure`,
    );
    console.table({
      'between two figures, ms': { ...spread(found.gapsMs), looks: found.gapsMs.length },
      'figure against picture, frames': { ...spread(found.frames), looks: found.frames.length },
      'newest figure against picture, frames': {
        ...spread(found.unmatchedFrames),
        looks: found.unmatchedFrames.length,
      },
      'drawn against measured joint, px': { ...spread(found.addedPx), looks: found.addedPx.length },
      'drawn against true joint, px': { ...spread(found.truthPx), looks: found.truthPx.length },
      'measured against true joint, px': { ...spread(found.networkPx), looks: found.networkPx.length },
    });
    const { median, p95 } = spread(found.frames);
    const isRight = median <= LARGEST_FRAMES.median && p95 <= LARGEST_FRAMES.p95;
    console.log(isRight ? 'right' : 'WRONG: the figure is off its picture');
    if (!isRight) process.exitCode = 1;
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** What a page has noted since it was asked last. */
async function notedBy(page: Page): Promise<Noted> {
  return page.evaluate<Noted>(`(() => {
    const { camera, live, canvas } = noted;
    Object.assign(noted, { canvas: [] });
    return { camera, live, canvas };
  })()`);
}
