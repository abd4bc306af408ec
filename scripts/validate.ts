/**
 * `npm run validate -- [--set proof|developing] [--model full] [--rate 30] [--only ID-PART] [--write]`: runs the chain of
 * the record over the kept traces of rendered people and prints how it agrees with their true angles; --write also puts
 * it into docs/validation.md and plots of it into docs/validation.html (docs/validation-three-looks.* with combined). Ends with 0: goals that are missed stand in the report.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { yardstickCases } from '../demo-clips/generator/yardstick/cases.ts';
import { hasTrace, readTrace } from '../tests/yardstick/trace-files.ts';
import { LANDMARKS_OF, MEASURED_MODELS } from '../tests/yardstick/trace.ts';
import { fullRateSet } from '../tests/yardstick/yardstick-set.ts';
import { forearmTrialSection } from '../tests/yardstick/forearm/section.ts';
import { handMoments } from '../tests/yardstick/forearm/hand-moments.ts';
import { lookErrors, type LookErrors } from '../tests/yardstick/validation/looks-beside.ts';
import { plotPage } from '../tests/yardstick/validation/plots/page.ts';
import { validationReport } from '../tests/yardstick/validation/report.ts';
import { movementOf } from '../tests/yardstick/validation/case-settings.ts';
import { setFigures, type SetFigures } from '../tests/yardstick/validation/set-figures.ts';
import { ROOT } from './bootstrap.mjs';

const { values } = parseArgs({
  options: {
    set: { type: 'string', default: 'proof' },
    model: { type: 'string', default: 'full' },
    rate: { type: 'string', default: '30' },
    only: { type: 'string', default: '' },
    write: { type: 'boolean', default: false },
  },
});
const model = MEASURED_MODELS.find((name) => name === values.model);
const rateHz = Number(values.rate);
if (model === undefined || !(rateHz >= 5) || (values.set !== 'proof' && values.set !== 'developing')) {
  console.error(`Give --set proof or developing, --model ${MEASURED_MODELS.join(', ')}, --rate 5 or more.`);
  process.exit(2);
}

const cases = yardstickCases(values.set).filter(({ id }) => id.includes(values.only));
const figures: SetFigures[] = [];
const looks: LookErrors[] = [];
for (const [index, drawnCase] of cases.entries()) {
  if (!hasTrace(drawnCase.id)) continue;
  const trace = readTrace(drawnCase.id);
  looks.push(lookErrors(drawnCase, trace));
  const set = fullRateSet(drawnCase, trace, { model, rateHz, seed: index + 1, noise: 1 });
  figures.push(setFigures(drawnCase, set, LANDMARKS_OF[model]));
  if (process.stderr.isTTY) process.stderr.write(`\r${String(index + 1)} of ${String(cases.length)} sets`);
}
const standing = cases.filter((one) => hasTrace(one.id) && movementOf(one) === 'standing');
const options = `--set ${values.set} --model ${model} --rate ${String(rateHz)}`;
const facts = {
  set: values.set,
  model,
  rateHz,
  command: `npm run validate -- ${options}`,
  looks,
  forearmTrial: forearmTrialSection(standing.flatMap((one) => handMoments(one, readTrace(one.id)))),
};
const report = validationReport(figures, facts);
console.log(report);
if (figures.length < cases.length)
  console.log(`${String(cases.length - figures.length)} sets have no trace: npm run yardstick makes them.`);
if (values.write) {
  const name = model === 'combined' ? 'docs/validation-three-looks' : 'docs/validation';
  writeFileSync(join(ROOT, `${name}.md`), report);
  const tokens = readFileSync(join(ROOT, 'src/ui/common/tokens.css'), 'utf8');
  writeFileSync(join(ROOT, `${name}.html`), plotPage(figures, facts, tokens));
}
