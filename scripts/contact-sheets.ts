/**
 * `npm run contact-sheets -- FOLDER [--out DIR] [--every SECONDS]`: measures every clip of a folder for the left and
 * for the right arm and draws what was found on its frames, so that a person can look at them one by one: left limbs
 * in a full line, right limbs dashed, the angle where it was measured, the reason where it was not.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join, parse, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { LANDMARK_NAMES } from '../src/core/pose/landmark.ts';
import { decodeFrames } from '../src/core/session/quantised-frames.ts';
import { sessionRecordSchema } from '../src/core/session/session-record.ts';
import type { SheetFrame } from './contact-sheets/draw-sheet.ts';
import { drawSheets } from './contact-sheets/draw-sheets.ts';

const { values, positionals } = parseArgs({
  options: { out: { type: 'string' }, every: { type: 'string' } },
  allowPositionals: true,
});
const startedIn = process.env['INIT_CWD'] ?? process.cwd();
const folder = positionals[0] === undefined ? null : resolve(startedIn, positionals[0]);
if (folder === null || !existsSync(folder)) {
  console.log(
    'No folder of clips there: nothing to look at. Name a folder: npm run contact-sheets -- FOLDER',
  );
  process.exit(0);
}
const out = resolve(startedIn, values.out ?? 'out/contact-sheets');
const everySeconds = Number(values.every ?? 0.5);
mkdirSync(out, { recursive: true });

const SIDES = ['left', 'right'] as const;
for (const side of SIDES) {
  const args = [join(import.meta.dirname, 'measure.ts'), folder, '--exercise', 'free-curl', '--side', side];
  spawnSync(process.execPath, ['--import', 'tsx', ...args, '--out', join(out, side)], { stdio: 'inherit' });
}

const jobs = readdirSync(folder)
  .filter((name) => /\.(mp4|mov|webm|m4v|mkv)$/i.test(name))
  .map((name) => ({ path: join(folder, name), name: parse(name).name }))
  .filter(({ name }) => existsSync(join(out, 'left', `${name}.record.json`)))
  .map((clip) => ({ ...clip, frames: sheetFrames(clip.name) }));
await drawSheets(jobs, out, (file) => {
  console.log(file);
});

/** Every so many seconds a frame of the clip, with what each arm's run said of it. */
function sheetFrames(stem: string): SheetFrame[] {
  const said = { left: readSide(stem, 'left'), right: readSide(stem, 'right') };
  let next = -Infinity;
  return said.left.frames.flatMap((frame, i) => {
    if (frame.timeSeconds < next) return [];
    next = frame.timeSeconds + everySeconds - 1e-6;
    const points = frame.pose?.image.map(({ x, y, visibility }, k) => ({
      name: LANDMARK_NAMES[k] ?? '',
      x: x / frame.widthPx,
      y: y / frame.heightPx,
      visibility,
    }));
    return {
      timeSeconds: frame.timeSeconds,
      points: points ?? [],
      words: [`L ${said.left.words[i] ?? '?'}`, `R ${said.right.words[i] ?? '?'}`],
    };
  });
}

function readSide(stem: string, side: (typeof SIDES)[number]) {
  const record = sessionRecordSchema.parse(
    JSON.parse(readFileSync(join(out, side, `${stem}.record.json`), 'utf8')),
  );
  const [head = '', ...rows] = readFileSync(join(out, side, `${stem}.frames.csv`), 'utf8')
    .trim()
    .split(/\r?\n/);
  const columns = head.split(',');
  const cell = (row: string, name: string): string => row.split(',')[columns.indexOf(name)] ?? '';
  const words = rows.map((row) => {
    const angle = cell(row, 'elbow_flexion_deg');
    return angle === '' ? cell(row, 'reason') : `${Number(angle).toFixed(0)} deg`;
  });
  return { frames: record.sets.flatMap((set) => decodeFrames(set.frames)), words };
}
