/**
 * `npm run consult:check [-- FOLDER]`: two real browsers on this machine hold a consult, once with a hold and once with a curl before
 * the patient's camera: invited by text and by link, check phrase compared, set asked and coached from the other side, pain asked, ended. Then
 * somebody in between, a second answer, and texts that are none. Screenshots of both sides go into FOLDER (out/consult).
 */
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { clipTruthSchema } from '../demo-clips/generator/truth-schema.ts';
import { readFileSync } from 'node:fs';
import { writeFakeCamera, fakeCameraArgs } from '../tests/helpers/fake-camera.ts';
import { ROOT } from './bootstrap.mjs';
import { coach } from './consult/coach.ts';
import { linkUp, openPair, type Pair } from './consult/pair.ts';
import { refusals } from './consult/refusals.ts';
import { eachWay } from './consult/ways.ts';

const folder = process.argv[2] ?? join(ROOT, 'out', 'consult');
mkdirSync(folder, { recursive: true });
let failures = 0;

/** Prints one line of what was found. */
function said(what: string, isRight: boolean, found: string): void {
  console.log(`${isRight ? 'right' : 'WRONG'}  ${what}: ${found}`);
  if (!isRight) failures += 1;
}

const RUNS = [
  { clip: 'hold-drift', by: 'code', exercise: 'Isometric hold', delaySeconds: 0 },
  // A person takes a while to pass an answer on.
  { clip: 'body-curl-strict', by: 'text by hand', exercise: 'Body-moving curl', delaySeconds: 45 },
] as const;

const cameras = mkdtempSync(join(tmpdir(), 'forearmed-consult-'));
try {
  for (const run of RUNS) {
    const camera = join(cameras, `${run.clip}.mjpeg`);
    const truth = clipTruthSchema.parse(
      JSON.parse(readFileSync(join(ROOT, 'demo-clips', `${run.clip}.truth.json`), 'utf8')),
    );
    const passSeconds = await writeFakeCamera(join(ROOT, 'demo-clips', `${run.clip}.mp4`), camera);
    const pair = await openPair(fakeCameraArgs(camera), { server: true });
    try {
      await linkUp(pair, run);
      await coach(pair, { ...run, truth, passSeconds, said, photograph: photographer(run.clip) });
      said(
        `${run.clip}: other addresses asked`,
        pair.foreignRequests().length === 0,
        pair.foreignRequests().join() || 'none',
      );
      said(
        `${run.clip}: security policy`,
        pair.violations().length === 0,
        pair.violations().join() || 'kept',
      );
    } finally {
      await pair.close();
    }
  }
  await eachWay(said);
  await refusals(said);
} finally {
  rmSync(cameras, { recursive: true, force: true });
}
console.log(failures === 0 ? 'All right.' : `${failures} of these are wrong.`);
process.exitCode = failures === 0 ? 0 : 1;

function photographer(clip: string): (pair: Pair, moment: string) => Promise<void> {
  return async ({ therapist, patient }, moment) => {
    const shoot = (page: Page, side: string) =>
      page.screenshot({ path: join(folder, `${clip}-${moment}-${side}.png`), fullPage: true });
    await shoot(therapist, 'therapist');
    await shoot(patient, 'patient');
  };
}
