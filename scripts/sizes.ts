/** `npm run sizes`: what the build weighs after gzip, against the budgets of scripts/sizes/budgets.ts. Ends with 1 over one. */
import { join } from 'node:path';
import { ROOT } from './bootstrap.mjs';
import { buildSizes } from './sizes/build-sizes.ts';

const { weighed } = buildSizes(join(ROOT, 'dist'));
const over = weighed.filter(({ kilobytes, budgetKb }) => budgetKb !== null && kilobytes > budgetKb);
const widest = Math.max(...weighed.map(({ what }) => what.length));

console.log(`${'kB after gzip'.padEnd(widest)}      size  budget`);
for (const one of weighed) {
  const budget = one.budgetKb === null ? '' : one.budgetKb.toFixed(0);
  const mark = over.includes(one) ? '  OVER' : '';
  console.log(
    `${one.what.padEnd(widest)} ${one.kilobytes.toFixed(1).padStart(9)} ${budget.padStart(7)}${mark}`,
  );
}
for (const { what, kilobytes, budgetKb } of over)
  console.error(
    `${what} is ${kilobytes.toFixed(1)} kB, over its budget of ${String(budgetKb)} kB: load part of it later, or say in scripts/sizes/budgets.ts why it may be larger.`,
  );
process.exitCode = over.length === 0 ? 0 : 1;
