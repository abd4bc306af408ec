/**
 * `npm run indicators`: for every indicator and flag of judging a seeded trace in which it is true and one in which it
 * is false, as a table. Ends with 1 when one is not as expected.
 */
import { INDICATOR_CASES } from '../tests/helpers/indicator-cases.ts';

const rows = INDICATOR_CASES.map(({ indicator, situation, expected, got }) => ({
  indicator,
  situation,
  expected: String(expected),
  got: String(got()),
}));
const widest = (key: 'indicator' | 'situation'): number => Math.max(...rows.map((row) => row[key].length));
const indicatorWidth = widest('indicator');
const situationWidth = widest('situation');
const line = (a: string, b: string, c: string, d: string): string =>
  `${a.padEnd(indicatorWidth)}  ${b.padEnd(situationWidth)}  ${c.padEnd(8)}  ${d}`;

console.log(line('indicator', 'case', 'expected', 'got'));
for (const { indicator, situation, expected, got } of rows) {
  console.log(line(indicator, situation, expected, expected === got ? got : `${got}  WRONG`));
}
const wrong = rows.filter(({ expected, got }) => expected !== got).length;
console.log(`\n${rows.length - wrong} of ${rows.length} as expected`);
process.exit(wrong === 0 ? 0 : 1);
