/**
 * `npm run consult:networks [-- NAME ...]`: a consult through two network namespaces (Linux, as root, with Debian's coturn): directly, and
 * through a relay with the direct path blocked, each on a good line and on one with 5 % loss, 200 ms and 300 kbit/s on the patient's side. Then
 * the network is cut for 5, 20 and 60 s in a set, each page is loaded again, and each tab is killed. NAME: direct, direct-poor, relayed, relayed-poor, cuts, pages.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { clipTruthSchema } from '../demo-clips/generator/truth-schema.ts';
import { fakeCameraArgs, writeFakeCamera } from '../tests/helpers/fake-camera.ts';
import { ensureReady, ROOT } from './bootstrap.mjs';
import { cutIn, loseOf } from './consult/losses.ts';
import { makeNetworks, startTurn } from './consult/namespaces.ts';
import { openAcross, type AcrossPair, type Line } from './consult/across.ts';
import { measureSet } from './consult/measured-set.ts';
import { medianOf, spread } from './consult/timing.ts';

/** What a line is to do, in medians. Chosen for this tool, no source, each for the reason beside it. */
interface Goals {
  /** The next repetition of the clip begins about a second after the one before; what was counted is there before it is half done. */
  readonly repetitionSeconds: number;
  /** A cue is to belong to what is done now; after 3 s it is not said at all. */
  readonly cueSeconds: number;
  /** Where 15 pictures a second are measured, so much leaves the eight that following a bend needs, with room. */
  readonly pictureShare: number;
}
const GOOD: Goals = { repetitionSeconds: 1.5, cueSeconds: 0.5, pictureShare: 0.95 };
const POOR: Goals = { repetitionSeconds: 2.5, cueSeconds: 1, pictureShare: 0.7 };

const LINES: Readonly<Record<string, Line & { readonly goals: Goals }>> = {
  direct: { by: 'direct', isPoor: false, goals: GOOD },
  relayed: { by: 'relay', isPoor: false, goals: GOOD },
  'direct-poor': { by: 'direct', isPoor: true, goals: POOR },
  'relayed-poor': { by: 'relay', isPoor: true, goals: POOR },
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
/** One way of linking up, from its beginning to its end. What stops it is one thing that is wrong, and photographed. */
async function through(name: string, line: Line, show: (pair: AcrossPair) => Promise<void>): Promise<void> {
  if (!isWanted(name)) return;
  let pair: AcrossPair | null = null;
  try {
    pair = await openAcross(networks, line, fakeCameraArgs(camera));
    await show(pair);
  } catch (error) {
    const photographs = pair === null ? 'before both were linked up' : await photographed(pair, name);
    said(name, false, `${error instanceof Error ? error.message : String(error)}\n(${photographs})`);
  } finally {
    await pair?.close();
  }
}

/** Where the pictures of both sides are. */
async function photographed({ therapist, patient }: AcrossPair, name: string): Promise<string> {
  const paths: string[] = [];
  for (const [side, page] of Object.entries({ therapist, patient })) {
    const path = join(tmpdir(), `forearmed-${name}-${side}.png`);
    const isTaken = await page.screenshot({ path }).then(
      () => true,
      () => false,
    );
    if (isTaken) paths.push(path);
  }
  return paths.join(', ');
}

/** A set with cues, timed against the clip's truth. */
async function timed(
  name: string,
  { by, goals }: Line & { readonly goals: Goals },
  pair: AcrossPair,
): Promise<void> {
  const timing = await measureSet(pair, { truth, passSeconds });
  const share = timing.picturesCame / timing.picturesMeasured;
  const timely = (what: string, seconds: readonly number[], goal: number, least: number): void =>
    said(
      `${name}: ${what}`,
      seconds.length >= least && medianOf(seconds) <= goal,
      `${spread(seconds)}, goal ${goal} s`,
    );
  timely(
    'true end of a repetition to its number there',
    timing.repetitionSeconds,
    goals.repetitionSeconds,
    4,
  );
  said(`${name}: measured to there`, timing.figureSeconds.length > 0, spread(timing.figureSeconds));
  // One of a set's cues may come too late on a poor line: it is then left unsaid, and the therapist reads that.
  const leastCues = goals === GOOD ? timing.cuesGiven : timing.cuesGiven - 1;
  timely(`cues to the patient, of ${timing.cuesGiven}`, timing.cueSeconds, goals.cueSeconds, leastCues);
  said(
    `${name}: measured pictures whose figures came`,
    share >= goals.pictureShare,
    `${timing.picturesCame} of ${timing.picturesMeasured} (${(100 * share).toFixed(1)} %), goal ${100 * goals.pictureShare} %`,
  );
  said(`${name}: what is left out`, true, timing.leftOut);
  said(`${name}: way`, timing.way === by, timing.way);
}

try {
  await startTurn(networks);
  for (const [name, line] of Object.entries(LINES))
    await through(name, line, (pair) => timed(name, line, pair));
  const relayed: Line = { by: 'relay', isPoor: false };
  await through('cuts', relayed, (pair) => cutIn(pair, networks, CUTS_SECONDS, said));
  await through('pages', relayed, (pair) => loseOf(pair, said));
} finally {
  networks.close();
  rmSync(folder, { recursive: true, force: true });
}
console.log(failures === 0 ? 'All right.' : `${failures} of these are wrong.`);
process.exitCode = failures === 0 ? 0 : 1;
