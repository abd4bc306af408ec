/**
 * `npm run small-tiles [-- --only NAME] [--reuse]`: how small a person in a call's tile may be. Shrinks two demo clips with ffmpeg, compresses
 * them as hard as a call on a poor line (x264, constant rate factor 32, no pictures to come looked at), measures them with
 * `measure` and prints the elbow's error beside the upper arm's pixels. Needs ffmpeg. --reuse takes what was measured before.
 */
import { execFileSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { clipTruthSchema } from '../demo-clips/generator/truth-schema.ts';
import { median } from '../src/core/math/statistics.ts';
import { elbowErrors } from './demo-check/compare.ts';
import { measureClip } from './demo-check/measure-demo.ts';
import { readTable, type Table } from './demo-check/read-table.ts';

const CLIPS = ['hold-drift', 'body-curl-strict'] as const;
/** Of the clips' own 640 x 480; 1 is the clip as it is, not compressed anew. Below a third the gate takes the person for too small. */
const SCALES = [1, 0.6, 0.45, 0.35] as const;

const { values } = parseArgs({ options: { only: { type: 'string' }, reuse: { type: 'boolean' } } });
const root = join(import.meta.dirname, '..');
const out = resolve(process.env['INIT_CWD'] ?? process.cwd(), 'out/small-tiles');

const rows: Record<string, string>[] = [];
for (const name of CLIPS.filter((clip) => values.only === undefined || clip === values.only)) {
  const truth = clipTruthSchema.parse(
    JSON.parse(readFileSync(join(root, `demo-clips/${name}.truth.json`), 'utf8')),
  );
  const truthFrames = readTable(join(root, `demo-clips/${name}.truth.csv`));
  for (const scale of SCALES) {
    const folder = join(out, `${name}-${String(scale)}`);
    mkdirSync(folder, { recursive: true });
    const clip = join(folder, `${name}.mp4`);
    const table = join(folder, `${name}.frames.csv`);
    if (values.reuse !== true || !existsSync(table)) {
      shrink(join(root, `demo-clips/${name}.mp4`), clip, scale);
      await measureClip(root, clip, folder, truth);
    }
    const frames = readTable(table);
    const { errors, covered } = elbowErrors(truthFrames, frames);
    const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
    rows.push({
      clip: name,
      'picture, px': `${String(even(640 * scale))} x ${String(even(480 * scale))}`,
      'upper arm, px': (scale * upperArmPx(truthFrames, truth.side)).toFixed(0),
      'pictures measured': `${((100 * errors.length) / frames.length).toFixed(0)} %`,
      'mean |error|, deg': mean.toFixed(1),
      'p95, deg': (errors[Math.floor(errors.length * 0.95)] ?? NaN).toFixed(1),
      'inside the interval': (covered / errors.length).toFixed(2),
    });
  }
}
console.table(rows);

function shrink(from: string, to: string, scale: number): void {
  if (scale === 1) return copyFileSync(from, to);
  const size = `scale=${String(even(640 * scale))}:${String(even(480 * scale))}:flags=area`;
  const code = ['-c:v', 'libx264', '-preset', 'veryfast', '-tune', 'zerolatency', '-crf', '32'];
  execFileSync('ffmpeg', ['-v', 'error', '-y', '-i', from, '-vf', size, ...code, '-an', to]);
}

/** Codecs take even sizes. */
function even(size: number): number {
  return 2 * Math.round(size / 2);
}

/** The treated upper arm in the clip's own pixels, median over the clip. */
function upperArmPx(truth: Table, side: 'left' | 'right'): number {
  const at = (row: number, column: string): number => truth.number(row, column) ?? NaN;
  const lengths = Array.from({ length: truth.length }, (_, row) =>
    Math.hypot(
      at(row, `${side}_shoulder_x_px`) - at(row, `${side}_elbow_x_px`),
      at(row, `${side}_shoulder_y_px`) - at(row, `${side}_elbow_y_px`),
    ),
  );
  return median(lengths) ?? NaN;
}
