/**
 * `npm run kill-campaign -- [--times 50] [--seed N]`: records in a real browser, ends tab, process or browser at
 * random moments, opens again and looks at what was kept. Ends with 1 when more than 2 s were lost once, or a record
 * cannot be read or is judged differently.
 */
import { parseArgs } from 'node:util';
import { killRuns, stillReadable, type KillRun } from '../tests/browser/storage/kill-runs.ts';
import { StorageBrowser } from '../tests/browser/storage/storage-browser.ts';

const MOST_LOST_SECONDS = 2;

const { values } = parseArgs({
  options: { times: { type: 'string', default: '50' }, seed: { type: 'string', default: '20260302' } },
});
const times = Number(values.times);
const seed = Number(values.seed);
if (!Number.isInteger(times) || times < 1 || !Number.isInteger(seed)) {
  console.error('Give whole numbers: npm run kill-campaign -- --times 50 --seed 1');
  process.exit(2);
}

const browser = await StorageBrowser.open();
const runs: KillRun[] = [];
console.log(' run  ended by            recorded s  sets  frames kept  reps  lost s  problem');
for await (const run of killRuns(browser, times, seed)) {
  runs.push(run);
  const frames = run.kept.sets.reduce((sum, set) => sum + set.frames, 0);
  const repetitions = run.kept.sets.reduce((sum, set) => sum + set.repetitions, 0);
  console.log(
    [
      String(runs.length).padStart(4),
      ` ${run.kill.padEnd(18)}`,
      run.recordedSeconds.toFixed(2).padStart(10),
      `${run.kept.sets.length}/${run.setsBegun}`.padStart(5),
      String(frames).padStart(12),
      String(repetitions).padStart(5),
      run.lostSeconds.toFixed(2).padStart(7),
      ` ${run.problem ?? '-'}`,
    ].join(' '),
  );
}
const unreadable = await stillReadable(browser, runs);
await browser.close();

const lost = runs.map(({ lostSeconds }) => lostSeconds).sort((a, b) => a - b);
const worst = lost.at(-1) ?? 0;
const problems = runs.filter(({ problem }) => problem !== null).length;
console.log(
  `\n${runs.length} kills, seed ${seed}: worst loss ${worst.toFixed(2)} s, median ${(lost[Math.floor(lost.length / 2)] ?? 0).toFixed(2)} s; ` +
    `${problems} with a problem, ${unreadable.length} not readable at the end.`,
);
for (const line of unreadable) console.log(line);
process.exitCode = worst <= MOST_LOST_SECONDS && problems === 0 && unreadable.length === 0 ? 0 : 1;
