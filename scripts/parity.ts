/**
 * `npm run parity -- [CLIP-OR-FOLDER ...] [--network NAME] [--rate HZ] [--out DIR]`: our landmarks against the library's own
 * runtime on the same pictures. Prints a row for each clip and names the pictures that differ most; draws those into DIR.
 */
import { existsSync, statSync } from 'node:fs';
import { mkdir, readdir, writeFile } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { drawBoth } from './bench/draw-both.ts';
import { type Difference, differenceIn } from './bench/compare-poses.ts';
import { openBench } from './bench/open-bench.ts';
import type { SeenByBoth } from './bench/page.ts';
import { spreadOf } from './bench/spread.ts';
import type { Side } from '../src/core/pose/landmark.ts';
import type { PoseModel } from '../src/core/pose/pose-service.ts';

/** Goals, for one clear person: the landmarks' median share of the torso, and the elbow angle's median and tail. */
const GOALS = { torsoShare: 0.01, elbowMedianDeg: 1, elbowTailDeg: 3 } as const;
const WORST = 3;
const MODELS: readonly PoseModel[] = ['lite', 'full', 'heavy'];

const { values, positionals } = parseArgs({
  options: {
    network: { type: 'string', default: 'full' },
    rate: { type: 'string', default: '15' },
    out: { type: 'string', default: 'out/parity' },
    gpu: { type: 'boolean', default: false },
  },
  allowPositionals: true,
});
const startedIn = process.env['INIT_CWD'] ?? process.cwd();
const model = MODELS.find((name) => name === values.network);
const rateHz = Number(values.rate);
if (model === undefined || !(rateHz > 0)) {
  console.error('Give --network lite, full or heavy, and --rate in pictures a second.');
  process.exit(2);
}
const demoClips = join(import.meta.dirname, '..', 'demo-clips');
const clips = (await Promise.all((positionals.length === 0 ? [demoClips] : positionals).map(clipsIn))).flat();
const addresses = new Map(clips.map((path, index) => [`/clips/${String(index)}.mp4`, path]));
const out = resolve(startedIn, values.out);
await mkdir(out, { recursive: true });

// The software adapter shows whether the graphics path computes the same; it says nothing of speed.
const bench = await openBench(
  addresses,
  values.gpu ? ['--enable-unsafe-webgpu', '--use-webgpu-adapter=swiftshader'] : [],
);
const page = await bench.openPage();
const ours = await page.evaluate(([name, backend]) => window.benchPage.openOurs(name, backend), [
  model,
  values.gpu ? 'gpu-even-software' : 'cpu',
] as const);
await page.evaluate((name) => window.benchPage.openLibrary(name, 'cpu'), model);
console.log(
  `${model}: ${ours.runtime} against the library's own runtime, ${String(rateHz)} pictures a second\n`,
);
console.log(
  'clip                         side   pictures  one sees nobody  landmarks, % of torso  elbow, deg',
);
console.log(
  '                                              (ours, theirs)   median      95th       median    95th',
);

let missed = 0;
for (const [address, path] of addresses) {
  const seen = await page.evaluate(([url, hz]) => window.benchPage.compare(url, hz), [
    address,
    rateHz,
  ] as const);
  for (const side of sidesOf(path)) missed += await report(basename(path), address, side, seen);
}
await bench.close();
console.log(missed === 0 ? '\nall goals met' : `\n${String(missed)} goals missed`);

async function report(
  name: string,
  address: string,
  side: Side,
  seen: readonly SeenByBoth[],
): Promise<number> {
  const differences = seen.flatMap((both) => differenceIn(both, side) ?? []);
  const shares = differences.map(({ torsoShare }) => torsoShare);
  const degs = differences.map((one) => one.elbowDeg);
  const blind = `${String(count(seen, 'ours'))}, ${String(count(seen, 'theirs'))}`;
  const [share, deg] = [spreadOf(shares), spreadOf(degs)];
  const figures = [share.median * 100, share.p95 * 100, deg.median, deg.p95];
  console.log(
    `${name.padEnd(28)} ${side.padEnd(6)} ${String(seen.length).padStart(8)}  ${blind.padEnd(15)}` +
      figures.map((figure) => figure.toFixed(2).padStart(10)).join(''),
  );
  const worst = differences.toSorted((a, b) => b.elbowDeg - a.elbowDeg).slice(0, WORST);
  await draw(name, address, side, seen, worst);
  const goals = [
    share.median <= GOALS.torsoShare,
    deg.median <= GOALS.elbowMedianDeg,
    deg.p95 <= GOALS.elbowTailDeg,
  ];
  return goals.filter((isMet) => !isMet).length;
}

function count(seen: readonly SeenByBoth[], who: 'ours' | 'theirs'): number {
  return seen.filter((both) => both[who] === null).length;
}

async function draw(
  name: string,
  address: string,
  side: Side,
  seen: readonly SeenByBoth[],
  worst: readonly Difference[],
): Promise<void> {
  const times = worst.map(({ timeSeconds }) => timeSeconds);
  const pictures = await page.evaluate(([url, hz, wanted]) => window.benchPage.pictures(url, hz, wanted), [
    address,
    rateHz,
    times,
  ] as const);
  for (const [index, { timeSeconds, elbowDeg, torsoShare }] of worst.entries()) {
    const both = seen.find((one) => one.timeSeconds === timeSeconds);
    const file = `${name}-${side}-${timeSeconds.toFixed(2)}s.jpg`;
    console.log(
      `    most different at ${timeSeconds.toFixed(2)} s: elbow ${elbowDeg.toFixed(1)} deg, ` +
        `landmarks ${(torsoShare * 100).toFixed(1)} % of the torso (${file})`,
    );
    if (both === undefined) continue;
    const jpeg = await page.evaluate(drawBoth, {
      jpeg: pictures[index] ?? '',
      ours: both.ours,
      theirs: both.theirs,
    });
    await writeFile(join(out, file), Buffer.from(jpeg, 'base64'));
  }
}

/** The arm that a demo clip is about; both of somebody else's clip. */
function sidesOf(path: string): readonly Side[] {
  const treated = /body-curl-strict|band-curl-oblique|walk-out/.test(path) ? 'left' : 'right';
  return resolve(path).startsWith(demoClips) ? [treated] : ['left', 'right'];
}

async function clipsIn(given: string): Promise<string[]> {
  const path = resolve(startedIn, given);
  if (!existsSync(path)) throw new Error(`There is no "${path}".`);
  if (!statSync(path).isDirectory()) return [path];
  const names = await readdir(path);
  return names.filter((name) => name.endsWith('.mp4')).map((name) => join(path, name));
}
