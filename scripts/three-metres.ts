/**
 * `npm run three-metres [-- --out DIR]`: walks a session of a plan in the real browser, from its link to the rest after a
 * set, with a demo clip as camera, and tells of each state how large its figures and cues are, in arc minutes at three metres,
 * and their contrast in both themes. Photographs each state at a laptop's, a phone's upright and a phone's lying window.
 * Ends with 1 where a goal is missed.
 */
import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { openApp } from '../tests/browser/ui-begin-live/open-app.ts';
import { fakeCameraArgs, writeFakeCamera } from '../tests/helpers/fake-camera.ts';
import { ROOT } from './bootstrap.mjs';
import { SCREENS, tableOf, type Reading, type ShownScreen } from './three-metres/visual-angle.ts';
import { walkSession } from './three-metres/walk-session.ts';

const { values } = parseArgs({
  options: { out: { type: 'string', default: join(ROOT, 'out/three-metres') } },
});
const out = resolve(process.env['INIT_CWD'] ?? process.cwd(), values.out);
mkdirSync(out, { recursive: true });

const camera = join(tmpdir(), `forearmed-camera-${String(process.pid)}.mjpeg`);
const readings: Reading[] = [];
try {
  await writeFakeCamera(join(ROOT, 'demo-clips/hold-drift.mp4'), camera);
  const app = await openApp(fakeCameraArgs(camera));
  for (const screen of Object.keys(SCREENS) as ShownScreen[])
    readings.push(...(await walkSession(app, screen, out)));
  await app.close();
} finally {
  if (existsSync(camera)) rmSync(camera);
}

const { text, isMissed } = tableOf(readings);
console.log(text);
console.log(`Pictures of each state in ${out}`);
process.exit(isMissed ? 1 : 0);
