/**
 * `npm run cues [-- --only NAME] [--out DIR] [--reuse]`: runs the demo clips through the live judge and the cues as a
 * camera's pictures would run, and prints every cue beside what the clip's truth says of that moment, and every fault of the
 * truth beside its cue. Ends with 1 on a cue without its fault, or a fault without its cue. --reuse takes the records that
 * DIR holds already.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { clipTruthSchema } from '../demo-clips/generator/truth-schema.ts';
import { readRecord } from '../src/core/session/migrations.ts';
import { cuesOfClip } from './cues/cues-of-clip.ts';
import { againstTruth, type CueRow } from './cues/against-truth.ts';
import { measureDemo } from './demo-check/measure-demo.ts';
import { readTable } from './demo-check/read-table.ts';

const { values } = parseArgs({
  options: { only: { type: 'string' }, out: { type: 'string' }, reuse: { type: 'boolean' } },
});
const root = join(import.meta.dirname, '..');
const clips = join(root, 'demo-clips');
const out = resolve(process.env['INIT_CWD'] ?? process.cwd(), values.out ?? 'out/demo-check');
mkdirSync(out, { recursive: true });

const names = readdirSync(clips)
  .filter((name) => name.endsWith('.truth.json'))
  .map((name) => name.replace('.truth.json', ''))
  .filter((name) => values.only === undefined || name === values.only);

const rows: (CueRow & { readonly clip: string })[] = [];
for (const clip of names) {
  const truth = clipTruthSchema.parse(JSON.parse(readFileSync(join(clips, `${clip}.truth.json`), 'utf8')));
  const folder = join(out, clip);
  const file = join(folder, `${clip}.record.json`);
  if (values.reuse !== true || !existsSync(file)) await measureDemo(root, clip, folder, truth);
  const reading = readRecord(readFileSync(file, 'utf8'));
  if (!reading.ok) throw new Error(`${file}: ${JSON.stringify(reading.problem)}`);
  const { cues, task } = cuesOfClip(reading.record, truth);
  const table = readTable(join(clips, `${clip}.truth.csv`));
  rows.push(...againstTruth({ cues, task, truth, table }).map((row) => ({ clip, ...row })));
}
console.table(rows.map(({ isRight, ...row }) => ({ ...row, right: isRight ? 'yes' : 'NO' })));
const wrong = rows.filter(({ isRight }) => !isRight);
console.log(`${rows.length - wrong.length} of ${rows.length} right`);
process.exitCode = wrong.length === 0 ? 0 : 1;
