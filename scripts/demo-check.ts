/**
 * `npm run demo-check [-- --only NAME] [--out DIR] [--reuse]`: measures the demo clips with `measure` and prints them
 * as a table against their truth; ends with 1 when a goal is missed. --reuse compares what DIR holds already.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { clipTruthSchema } from '../demo-clips/generator/truth-schema.ts';
import { sessionRecordSchema } from '../src/core/session/session-record.ts';
import { compareWithTruth, type Comparison } from './demo-check/compare.ts';
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

/** Two at a time: one clip alone leaves a core idle. */
const waiting = [...names];
const comparisons = new Map<string, Comparison>();
await Promise.all([work(), work()]);
print();

async function work(): Promise<void> {
  for (let name = waiting.shift(); name !== undefined; name = waiting.shift()) {
    const truth = clipTruthSchema.parse(JSON.parse(readFileSync(join(clips, `${name}.truth.json`), 'utf8')));
    const folder = join(out, name);
    if (!(values.reuse === true && existsSync(join(folder, `${name}.record.json`))))
      await measureDemo(root, name, folder, truth);
    const record = sessionRecordSchema.parse(
      JSON.parse(readFileSync(join(folder, `${name}.record.json`), 'utf8')),
    );
    comparisons.set(
      name,
      compareWithTruth({
        truth,
        truthFrames: readTable(join(clips, `${name}.truth.csv`)),
        record,
        frames: readTable(join(folder, `${name}.frames.csv`)),
      }),
    );
  }
}

function print(): void {
  const rows = names.flatMap(
    (name) => comparisons.get(name)?.rows.map((row) => ({ clip: name, ...row })) ?? [],
  );
  console.table(
    rows.map(({ clip, what, truth, measured, goal, met }) => ({
      clip,
      what,
      truth,
      measured,
      goal,
      met: met ? 'yes' : 'NO',
    })),
  );
  const missed = rows.filter((row) => !row.met);
  console.log(`${rows.length - missed.length} of ${rows.length} goals met`);
  process.exitCode = missed.length === 0 ? 0 : 1;
}
