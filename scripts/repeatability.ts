/**
 * `npm run repeatability -- [--set developing|proof] [--rate 15] [--write] [--check]`: measures movements of rendered
 * people again and again and says how far each figure comes out the same: with other noise, another camera, another
 * body. --write keeps the figures and writes docs/repeatability.md and the table of least detectable changes that the app
 * reads; --check looks whether both are what the kept figures give, and measures a few movements again to see whether
 * those are still current.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { isDeepStrictEqual, parseArgs } from 'node:util';
import { join } from 'node:path';
import { format, resolveConfig } from 'prettier';
import { yardstickCases, type YardstickCase } from '../demo-clips/generator/yardstick/cases.ts';
import { CONDITIONS, REPEATS } from '../tests/yardstick/repeatability/conditions.ts';
import {
  asKept,
  readKept,
  writeKept,
  type KeptValues,
} from '../tests/yardstick/repeatability/kept-values.ts';
import { detectableChangeSource, repeatabilityReport } from '../tests/yardstick/repeatability/report.ts';
import { measureAgain } from '../tests/yardstick/repeatability/runs.ts';
import { hasTrace } from '../tests/yardstick/trace-files.ts';
import { movementOf } from '../tests/yardstick/validation/case-settings.ts';
import { ROOT } from './bootstrap.mjs';

const TABLE = join(ROOT, 'src/core/exercises/detectable-change.ts');
const REPORT = join(ROOT, 'docs/repeatability.md');
/** Movements are those of the nearly square views: the first so many of each movement and band. */
const MOVEMENTS_PER_CELL = 5;
const MOST_BAND_DEG = 15;

const { values } = parseArgs({
  options: {
    set: { type: 'string', default: 'developing' },
    rate: { type: 'string', default: '15' },
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
process.exitCode = values.check ? await check() : await measure(set);

const commandOf = (kept: Pick<KeptValues, 'set' | 'rateHz'>): string =>
  `npm run repeatability -- --set ${kept.set} --rate ${String(kept.rateHz)}`;

async function measure(of: KeptValues['set']): Promise<number> {
  const cases = yardstickCases(of).filter(({ id }) => hasTrace(id));
  const jobs = movementsOf(cases).flatMap((one) => CONDITIONS.map(({ key }) => ({ one, condition: key })));
  const kept: KeptValues = {
    version: 1,
    set: of,
    model: 'full',
    rateHz,
    targets: jobs.map(({ one, condition }, index) => {
      if (process.stderr.isTTY) process.stderr.write(`\r${String(index + 1)} of ${String(jobs.length)}`);
      const measuring = { model: 'full', rateHz, donors: cases } as const;
      const repeats = Array.from({ length: REPEATS }, (_, again) =>
        asKept(measureAgain(one, condition, again, measuring)),
      );
      return { id: one.id, condition, repeats };
    }),
  };
  console.log(repeatabilityReport(kept, commandOf(kept)));
  if (values.write) {
    writeKept(kept);
    writeFileSync(REPORT, repeatabilityReport(kept, commandOf(kept)));
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
