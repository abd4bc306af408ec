/**
 * `npm run consult:networks [-- NAME ...]`: a consult through two network namespaces (Linux, as root, with Debian's coturn): directly, and
 * through a relay with the direct path blocked, each on a good line and on one with 5 % loss, 200 ms and 300 kbit/s on the patient's side. Then
 * the network is cut for 5, 20 and 60 s in a set, each page is loaded again, and a tab is closed. NAME: direct, direct-poor, relayed, relayed-poor, cuts, pages.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { clipTruthSchema } from '../demo-clips/generator/truth-schema.ts';
import { fakeCameraArgs, writeFakeCamera } from '../tests/helpers/fake-camera.ts';
import { ensureReady, ROOT } from './bootstrap.mjs';
import { cutIn, loseOf } from './consult/losses.ts';
import { makeNetworks, startTurn } from './consult/namespaces.ts';
import { openAcross, type Line } from './consult/across.ts';
import { measureSet } from './consult/measured-set.ts';
import { spread } from './consult/timing.ts';

const LINES: Readonly<Record<string, Line>> = {
  direct: { by: 'direct', isPoor: false },
  relayed: { by: 'relay', isPoor: false },
  'direct-poor': { by: 'direct', isPoor: true },
  'relayed-poor': { by: 'relay', isPoor: true },
};
const CUTS_SECONDS = [5, 20, 60];

const wanted = process.argv.slice(2);
const isWanted = (name: string): boolean => wanted.length === 0 || wanted.includes(name);
let failures = 0;

/** Prints one line of what was found. */
function said(what: string, isRight: boolean, found: string): void {
  console.log(`${isRight ? 'right' : 'WRONG'}  ${what}: ${found}`);
  if (!isRight) failures += 1;
}

ensureReady();
const folder = mkdtempSync(join(tmpdir(), 'forearmed-consult-'));
const camera = join(folder, 'camera.mjpeg');
const truth = clipTruthSchema.parse(
  JSON.parse(readFileSync(join(ROOT, 'demo-clips', 'body-curl-strict.truth.json'), 'utf8')),
);
const passSeconds = await writeFakeCamera(join(ROOT, 'demo-clips', 'body-curl-strict.mp4'), camera);
const networks = makeNetworks();
try {
  await startTurn(networks);
  for (const [name, line] of Object.entries(LINES)) {
    if (!isWanted(name)) continue;
    const pair = await openAcross(networks, line, fakeCameraArgs(camera));
    try {
      const timing = await measureSet(pair, { truth, passSeconds });
      const share = timing.picturesCame / timing.picturesMeasured;
      said(
        `${name}: true end of a repetition to its number there`,
        timing.repetitionSeconds.length > 0,
        spread(timing.repetitionSeconds),
      );
      said(`${name}: measured to there`, timing.figureSeconds.length > 0, spread(timing.figureSeconds));
      said(
        `${name}: cues to the patient`,
        timing.cueSeconds.length === timing.cuesGiven,
        `${spread(timing.cueSeconds)} of ${timing.cuesGiven}`,
      );
      said(
        `${name}: measured pictures whose figures came`,
        share > 0.5,
        `${timing.picturesCame} of ${timing.picturesMeasured} (${(100 * share).toFixed(1)} %)`,
      );
      said(`${name}: what is left out`, true, timing.leftOut);
      said(`${name}: way`, timing.way === line.by, timing.way);
    } finally {
      await pair.close();
    }
  }
  if (isWanted('cuts')) {
    const pair = await openAcross(networks, { by: 'relay', isPoor: false }, fakeCameraArgs(camera));
    try {
      await cutIn(pair, networks, CUTS_SECONDS, said);
    } finally {
      await pair.close();
    }
  }
  if (isWanted('pages')) {
    const pair = await openAcross(networks, { by: 'relay', isPoor: false }, fakeCameraArgs(camera));
    try {
      await loseOf(pair, said);
    } finally {
      await pair.close();
    }
  }
} finally {
  networks.close();
  rmSync(folder, { recursive: true, force: true });
}
console.log(failures === 0 ? 'All right.' : `${failures} of these are wrong.`);
process.exitCode = failures === 0 ? 0 : 1;
