/**
 * `npm run cost`: what measuring costs on this machine, without the pose network. For each frame of a live set, part
 * by part, in microseconds; and for whole sets of 1, 5 and 10 minutes, in seconds. Ends with 1 when a live frame takes
 * more than 2 % of the time between two pictures, or when judging a set grows faster than the set.
 */
import { CURLING, costSet, HOLDING, RATE_HZ } from './cost/cost-set.ts';
import { liveCosts } from './cost/live-cost.ts';
import { wholeSetCost, type WholeSetCost } from './cost/whole-set-cost.ts';

/** Time between two pictures, microseconds: the pose network gives about 15 a second on two plain cores. */
const BUDGET_US = 1e6 / 15;
/** Share of it that everything but the network may take, 95th percentile. */
const MOST_SHARE = 0.02;
/** Twice the set may take so many times as long: twice, and a fifth for memory that is less near. */
const MOST_GROWTH = 2.4;
const LIVE_MINUTES = 10;
const ROUNDS = 3;

const percent = (us: number): string => `${((100 * us) / BUDGET_US).toFixed(2)} %`;
let isWithin = true;

for (const settings of [HOLDING, CURLING]) {
  const minutes = `${String(LIVE_MINUTES)} min at ${String(RATE_HZ)} frames a second`;
  console.log(`\nLive, ${settings.exercise}, ${minutes}: microseconds a frame, share of a picture's time`);
  console.log('part                    median     95 %  last min    share of 95 %');
  const costs = await liveCosts(costSet(settings, 60 * LIVE_MINUTES), settings);
  for (const { part, medianUs, p95Us, lastMinuteUs } of costs) {
    const figures = [medianUs, p95Us, lastMinuteUs].map((us) => us.toFixed(1).padStart(8)).join(' ');
    console.log(`${part.padEnd(22)}${figures}  ${percent(p95Us).padStart(14)}`);
  }
  const whole = costs.find(({ part }) => part === 'all together');
  if (whole === undefined || whole.p95Us > MOST_SHARE * BUDGET_US) {
    isWithin = false;
    console.log(`TOO MUCH: the live chain may take ${percent(MOST_SHARE * BUDGET_US)}.`);
  }
}

const shown = ({ minutes, steps, allSeconds }: WholeSetCost): string =>
  [minutes, ...Object.values(steps), allSeconds].map((figure) => figure.toFixed(3).padStart(9)).join('');

for (const settings of [HOLDING, CURLING]) {
  console.log(`\nWhole sets, ${settings.exercise}: seconds, least of ${String(ROUNDS)} runs`);
  console.log('  minutes   encode     join   decode  measure    judge   phases      all');
  const costs = [1, 5, 10].map((minutes) => wholeSetCost(settings, minutes, ROUNDS));
  for (const cost of costs) console.log(shown(cost));
  const [, five, ten] = costs;
  if (five === undefined || ten === undefined) continue;
  const growth = ten.allSeconds / five.allSeconds;
  console.log(`From 5 to 10 minutes: ${growth.toFixed(2)} times as long.`);
  if (growth > MOST_GROWTH) {
    isWithin = false;
    console.log(`TOO MUCH: it may grow ${String(MOST_GROWTH)}-fold.`);
  }
}

console.log(isWithin ? '\nWithin the bounds.' : '\nNOT within the bounds.');
process.exitCode = isWithin ? 0 : 1;
