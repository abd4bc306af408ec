/**
 * `npm run pulls -- [--per-band 16]`: mixed pulls by the hundred whose shoulder's share of the work is spread evenly from
 * none to all, of which no pictures are drawn: where the joints truly are, with the errors that the network made on the
 * rendered people of the developing set, by turns. Prints curl or row against the truth, as the report of validation does.
 */
import { parseArgs } from 'node:util';
import { createScenario } from '../demo-clips/generator/scenario.ts';
import { imaginedPulls, yardstickCases } from '../demo-clips/generator/yardstick/cases.ts';
import { donorsFor, errorsOf, setOf } from '../tests/yardstick/repeatability/runs.ts';
import { rowSection } from '../tests/yardstick/validation/row-report.ts';
import { setFigures, type RowSaying } from '../tests/yardstick/validation/set-figures.ts';

const { values } = parseArgs({ options: { 'per-band': { type: 'string', default: '16' } } });
const perBand = Number(values['per-band']);
if (!Number.isInteger(perBand) || perBand < 3) {
  console.error('Give --per-band a whole number of 3 or more.');
  process.exit(2);
}
const RATE_HZ = 30;

const drawn = yardstickCases('developing');
const sayings: RowSaying[] = [];
let sets = 0;
for (const [index, pull] of imaginedPulls(perBand).entries()) {
  const lenders = donorsFor(pull, pull.outline.camera.yawDeg, drawn);
  const lender = lenders[index % lenders.length];
  if (lender === undefined) continue;
  const set = setOf(createScenario(pull.outline), errorsOf(lender, 'full'), index + 1, RATE_HZ);
  const { rows } = setFigures(pull, set, 'blazepose-full');
  if (rows.length > 0) sets++;
  sayings.push(...rows);
}
console.log(`${String(sets)} of ${String(5 * perBand)} sets in which every repetition was found.\n`);
console.log(rowSection(sayings).join('\n'));
