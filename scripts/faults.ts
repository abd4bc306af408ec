/**
 * `npm run faults -- [--times 200] [--hostile 1000] [--seed N] [--only kills,disk,tabs,clock,hostile]`: kills recording,
 * taking in, correcting and migrating at random moments in a real browser (a quarter of the times each), fills the disk, uses
 * two tabs at once, sets the clock back, and gives hostile documents, packages and backups. Prints a table with counts; ends
 * with 1 when anything was lost, shown wrongly or refused without a sentence.
 */
import { parseArgs } from 'node:util';
import {
  clocksSetBack,
  faultBrowser,
  fullDisks,
  hostileInputs,
  recordingKills,
  twoTabs,
  workKills,
  type FaultRun,
} from '../tests/faults/faults.ts';

const PARTS = ['kills', 'disk', 'tabs', 'clock', 'hostile'] as const;
/** How often each of the others is done. */
const OTHER_TIMES = 5;

const { values } = parseArgs({
  options: {
    times: { type: 'string', default: '200' },
    hostile: { type: 'string', default: '1000' },
    seed: { type: 'string', default: '20260302' },
    only: { type: 'string', default: PARTS.join() },
  },
});
const [times, hostile, seed] = [Number(values.times), Number(values.hostile), Number(values.seed)];
const only = values.only.split(',');
if (
  ![times, hostile, seed].every(Number.isInteger) ||
  !only.every((part) => PARTS.some((it) => it === part))
) {
  console.error(
    `Give whole numbers, and of ${PARTS.join()} what is wanted: npm run faults -- --times 40 --only kills`,
  );
  process.exit(2);
}

const counts = new Map<string, { done: number; wrong: string[] }>();
async function count(runs: AsyncIterable<FaultRun>): Promise<void> {
  for await (const { fault, wrong } of runs) {
    const row = counts.get(fault) ?? { done: 0, wrong: [] };
    row.done += 1;
    if (wrong !== null) row.wrong.push(wrong);
    counts.set(fault, row);
  }
}

/** Prints what was done so far; whoever has no time for the rest still has the count of it. */
function report(): void {
  console.log(`${'fault'.padEnd(52)}  times  wrong`);
  for (const [fault, { done, wrong }] of counts) {
    console.log(`${fault.padEnd(52)} ${String(done).padStart(6)} ${String(wrong.length).padStart(6)}`);
    for (const line of wrong.slice(0, 3)) console.log(`    ${line}`);
  }
  const all = [...counts.values()];
  const wrongs = all.reduce((sum, { wrong }) => sum + wrong.length, 0);
  console.log(`\n${all.reduce((sum, { done }) => sum + done, 0)} faults, seed ${seed}: ${wrongs} wrong.`);
  process.exitCode = wrongs === 0 ? 0 : 1;
}
for (const signal of ['SIGINT', 'SIGTERM'] as const)
  process.once(signal, () => {
    report();
    console.log('Broken off: the rest was not done.');
    process.exit(1);
  });

if (only.some((part) => ['kills', 'tabs', 'clock'].includes(part))) {
  const browser = await faultBrowser();
  if (only.includes('kills')) {
    const each = Math.ceil(times / 4);
    await count(recordingKills(browser, each, seed));
    for (const work of ['import', 'correct', 'migrate'] as const)
      await count(workKills(browser, work, each, seed));
  }
  if (only.includes('tabs')) await count(twoTabs(browser, OTHER_TIMES));
  if (only.includes('clock')) await count(clocksSetBack(browser, OTHER_TIMES));
  await browser.close();
}
if (only.includes('disk')) await count(fullDisks(OTHER_TIMES, seed));
if (only.includes('hostile')) await count(hostileInputs(hostile, seed));

report();
