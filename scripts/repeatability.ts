/**
 * `npm run repeatability -- [--set developing|proof] [--rate 15] [--write] [--check]`: measures movements of rendered
 * people again and again and says how far each figure comes out the same: with other noise, another camera, another
 * body. --write keeps the figures and writes docs/repeatability.md and the table of least detectable changes that the app
 * reads; --check looks whether both are what the kept figures give, and measures a few movements again to see whether
 * those are still current.
 */
import { spawn } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual, parseArgs } from 'node:util';
import { join } from 'node:path';
import { format, resolveConfig } from 'prettier';
import { yardstickCases, type YardstickCase } from '../demo-clips/generator/yardstick/cases.ts';
import { CONDITIONS, REPEATS } from '../tests/yardstick/repeatability/conditions.ts';
import {
  asKept,
  keptSchema,
  readKept,
  writeKept,
  type KeptValues,
} from '../tests/yardstick/repeatability/kept-values.ts';
import { detectableChangeSource, repeatabilityReport } from '../tests/yardstick/repeatability/report.ts';
import { COMPARED } from '../tests/yardstick/repeatability/rows.ts';
import { measureAgain } from '../tests/yardstick/repeatability/runs.ts';
import { hasTrace } from '../tests/yardstick/trace-files.ts';
import { movementOf, type Movement } from '../tests/yardstick/validation/case-settings.ts';
import { ROOT } from './bootstrap.mjs';

const TABLE = join(ROOT, 'src/core/exercises/detectable-change.ts');
const REPORT = join(ROOT, 'docs/repeatability.md');
/** Movements are those of the nearly square views: the first so many of each movement and band. */
const MOVEMENTS_PER_CELL = 4;
const MOST_BAND_DEG = 15;

const { values } = parseArgs({
  options: {
    set: { type: 'string', default: 'developing' },
    rate: { type: 'string', default: '15' },
    /** One movement alone, as plain data: how the command measures the movements side by side. */
    movement: { type: 'string' },
    write: { type: 'boolean', default: false },
    check: { type: 'boolean', default: false },
  },
});
const { set } = values;
const rateHz = Number(values.rate);
if ((set !== 'proof' && set !== 'developing') || !(rateHz >= 5)) {
  console.error('Give --set proof or developing, --rate 5 or more.');
  process.exit(2);
}
const only = COMPARED.map(([movement]) => movement).find((movement) => movement === values.movement);
if (only !== undefined) process.stdout.write(JSON.stringify(targetsOf(set, only)));
else process.exitCode = values.check ? await check() : await measure(set);

function commandOf(kept: Pick<KeptValues, 'set' | 'rateHz'>): string {
  return `npm run repeatability -- --set ${kept.set} --rate ${String(kept.rateHz)}`;
}

/** Everything of one movement, in the order of its cases. */
function targetsOf(of: KeptValues['set'], movement: Movement): KeptValues['targets'] {
  const cases = yardstickCases(of).filter(({ id }) => hasTrace(id));
  const measuring = { model: 'full', rateHz, donors: cases } as const;
  return movementsOf(cases)
    .filter((one) => movementOf(one) === movement)
    .flatMap((one) =>
      CONDITIONS.map(({ key }) => ({
        id: one.id,
        condition: key,
        repeats: Array.from({ length: REPEATS }, (_, again) =>
          asKept(measureAgain(one, key, again, measuring)),
        ),
      })),
    );
}

/** The same in a process of its own. */
async function targetsBeside(of: KeptValues['set'], movement: Movement): Promise<unknown> {
  const asked = ['--set', of, '--rate', String(rateHz), '--movement', movement];
  const child = spawn(process.execPath, ['--import', 'tsx', fileURLToPath(import.meta.url), ...asked], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const said: unknown = JSON.parse(await text(child.stdout));
  return said;
}

async function measure(of: KeptValues['set']): Promise<number> {
  const targets = await Promise.all(COMPARED.map(([movement]) => targetsBeside(of, movement)));
  const kept = keptSchema.parse({ version: 1, set: of, model: 'full', rateHz, targets: targets.flat() });
  const report = repeatabilityReport(kept, commandOf(kept));
  console.log(report);
  if (values.write) {
    writeKept(kept);
    writeFileSync(REPORT, report);
    writeFileSync(TABLE, await tableOf(kept));
  }
  return 0;
}

function movementsOf(cases: readonly YardstickCase[]): YardstickCase[] {
  const taken = new Map<string, number>();
  return cases.filter((one) => {
    const cell = `${movementOf(one)} ${String(one.yawBandDeg)}`;
    const count = (taken.get(cell) ?? 0) + 1;
    taken.set(cell, count);
    return one.yawBandDeg <= MOST_BAND_DEG && count <= MOVEMENTS_PER_CELL;
  });
}

async function tableOf(kept: KeptValues): Promise<string> {
  const style = await resolveConfig(TABLE);
  return format(detectableChangeSource(kept, commandOf(kept)), { ...style, filepath: TABLE });
}

/** 0 when report and table are what the kept figures give, and these are current as far as a few can say. */
async function check(): Promise<number> {
  const kept = readKept();
  if (kept === null) return complain('No figures are kept.');
  const command = commandOf(kept);
  if (readFileSync(REPORT, 'utf8') !== repeatabilityReport(kept, command))
    return complain('docs/repeatability.md is not what the kept figures give.');
  if (readFileSync(TABLE, 'utf8') !== (await tableOf(kept)))
    return complain('src/core/exercises/detectable-change.ts is not what the kept figures give.');
  const cases = yardstickCases(kept.set).filter(({ id }) => hasTrace(id));
  const movements = movementsOf(cases);
  for (const [name, condition] of [
    ['hold', 'camera-20'],
    ['standing', 'noise'],
    ['body-curl', 'body'],
  ] as const) {
    const one = movements.find((candidate) => movementOf(candidate) === name);
    const was = kept.targets.find((target) => target.id === one?.id && target.condition === condition);
    const measuring = { model: kept.model, rateHz: kept.rateHz, donors: cases };
    const now = one === undefined ? null : asKept(measureAgain(one, condition, 0, measuring));
    if (!isDeepStrictEqual(was?.repeats[0], now ?? undefined))
      return complain(`${name} (${condition}) comes out otherwise than what is kept.`);
  }
  console.log('The table of least detectable changes is what measuring again and again gives.');
  return 0;
}

function complain(sentence: string): number {
  console.error(`${sentence} Make it anew: npm run repeatability -- --write`);
  return 1;
}
