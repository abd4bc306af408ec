/**
 * `npm run people -- FOLDER [--pair A,B] [--networks full,heavy] [--out DIR]`: what clips of real people can show without
 * known angles: that limbs keep their lengths and what putting the elbow back to the joint does to that, that angles run
 * smoothly, that left and right are not exchanged, and that two cameras agree on an arm (--pair: two clips that run at
 * the same time, without folder and ending). The pictures that stand out are drawn into DIR, to be looked at.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join, parse, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { valueOf } from '../src/core/kinematics/measured.ts';
import { LANDMARK_NAMES } from '../src/core/pose/landmark.ts';
import type { PoseFrame } from '../src/core/pose/pose-frame.ts';
import { readRecord } from '../src/core/session/migrations.ts';
import { decodeFrames } from '../src/core/session/quantised-frames.ts';
import type { SheetFrame } from './contact-sheets/draw-sheet.ts';
import { drawSheets } from './contact-sheets/draw-sheets.ts';
import { clipFigures, type ClipFigures } from './people/clip-figures.ts';
import { lengthTable, measuredTable, viewsTable } from './people/tables.ts';
import { compareViews, elbowOf } from './people/two-views.ts';

const { values, positionals } = parseArgs({
  options: {
    pair: { type: 'string' },
    networks: { type: 'string', default: 'full,heavy' },
    out: { type: 'string', default: 'out/people' },
  },
  allowPositionals: true,
});
const startedIn = process.env['INIT_CWD'] ?? process.cwd();
const folder = positionals[0] === undefined ? null : resolve(startedIn, positionals[0]);
if (folder === null || !existsSync(folder)) {
  console.log('No folder of clips there: nothing to measure. Name a folder: npm run people -- FOLDER');
  process.exit(0);
}
const out = resolve(startedIn, values.out);
/** Pictures of a clip that are drawn: those that stand out most. */
const DRAWN = 20;

const networks = values.networks.split(',');
for (const network of networks) {
  mkdirSync(join(out, network), { recursive: true });
  // The arm that is named matters not: landmarks are kept, and both arms are measured from them below.
  const asked = ['--exercise', 'free-curl', '--side', 'left', '--rate', 'all', '--network', network];
  const command = ['--import', 'tsx', join(import.meta.dirname, 'measure.ts'), folder, ...asked];
  spawnSync(process.execPath, [...command, '--out', join(out, network)], { stdio: 'inherit' });
}

const clips = readdirSync(folder).filter((name) => /\.(mp4|mov|webm|m4v|mkv)$/i.test(name));
const all = networks.flatMap((network) =>
  clips.flatMap((file) => {
    const frames = framesOf(join(out, network, `${parse(file).name}.record.json`));
    return frames === null
      ? []
      : [{ clip: parse(file).name, file, network, frames, figures: clipFigures(frames) }];
  }),
);
console.log(`\n${measuredTable(all)}\n\n${lengthTable(all)}`);
const [first, second] = values.pair?.split(',') ?? [];
if (first !== undefined && second !== undefined) {
  const armsOf = (clip: string, network: string) =>
    all.find((one) => one.clip === clip && one.network === network)?.figures.arms;
  const views = networks.flatMap((network) => {
    const [a, b] = [armsOf(first, network), armsOf(second, network)];
    if (a === undefined || b === undefined) return [];
    return ([0, 1] as const).map((arm) => ({
      network,
      side: a[arm].side,
      of: compareViews(elbowOf(a[arm], a[1 - arm] ?? a[arm]), elbowOf(b[arm], b[1 - arm] ?? b[arm])),
    }));
  });
  console.log(`\n${first} less ${second}\n\n${viewsTable(views)}`);
}
await drawSheets(
  all.map(({ file, clip, network, frames, figures }) => ({
    path: join(folder, file),
    name: `${clip}-${network}`,
    frames: standingOut(frames, figures),
  })),
  out,
  (file) => {
    console.log(file);
  },
);

/** Landmarks of a record; null where the clip could not be measured. */
function framesOf(file: string): readonly PoseFrame[] | null {
  if (!existsSync(file)) return null;
  const reading = readRecord(readFileSync(file, 'utf8'));
  return reading.ok ? reading.record.sets.flatMap((set) => decodeFrames(set.frames)) : null;
}

/** The pictures that stand out most in either arm, in order of time; evenly spread ones where no arm was measured. */
function standingOut(frames: readonly PoseFrame[], { arms }: ClipFigures): SheetFrame[] {
  const worst = new Set(arms.flatMap(({ worstSeconds }) => worstSeconds.slice(0, DRAWN / 2)));
  const step = Math.ceil(frames.length / DRAWN);
  return frames.flatMap(({ timeSeconds, pose, widthPx, heightPx }, i) => {
    const isDrawn = worst.size > 0 ? worst.has(timeSeconds) : i % step === 0;
    if (!isDrawn) return [];
    const points = pose?.image.map(({ x, y, visibility }, k) => ({
      name: LANDMARK_NAMES[k] ?? '',
      x: x / widthPx,
      y: y / heightPx,
      visibility,
    }));
    const words = arms.map(({ side, series }) => {
      const frame = series[i];
      const angleDeg = frame === undefined ? null : valueOf(frame.elbowFlexionDeg);
      return `${side === 'left' ? 'L' : 'R'} ${angleDeg === null ? (frame?.reason ?? '?') : `${angleDeg.toFixed(0)} deg`}`;
    });
    return [{ timeSeconds, points: points ?? [], words }];
  });
}
