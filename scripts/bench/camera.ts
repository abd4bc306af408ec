import { LONG_TASK_MS, mainThread, openCameraSession } from './camera-session.ts';
import type { Goal } from './networks.ts';

/** Seconds of a set that are watched, after the first ones, which belong to starting up. */
const START_UP_SECONDS = 5;
const WATCHED_SECONDS = 30;
const LEAST_FREE_SHARE = 0.95;

/** Runs a set from a camera in the built app and tells how free the page stays and how fresh the numbers are. */
export async function benchCamera(): Promise<Goal[]> {
  const session = await openCameraSession('free-curl-mirror', { width: 1280, height: 800 });
  try {
    const { page, devtools } = session;
    await session.startSet();
    await page.waitForTimeout(START_UP_SECONDS * 1000 + 6000);
    const fromMs = await page.evaluate(() => performance.now());
    const [before, coresBefore] = [await mainThread(devtools), await session.coreSeconds()];
    await page.waitForTimeout(WATCHED_SECONDS * 1000);
    const [after, coresAfter] = [await mainThread(devtools), await session.coreSeconds()];
    const untilMs = await page.evaluate(() => performance.now());
    const tasks = await page.evaluate(() => window.longTasks ?? []);
    const facts = await session.facts();
    const long = tasks.filter(([begin]) => begin >= fromMs && begin <= untilMs);
    const seconds = (untilMs - fromMs) / 1000;
    const freeShare = 1 - (after.busySeconds - before.busySeconds) / seconds;
    const workShare = (after.workSeconds - before.workSeconds) / seconds;
    console.log(
      `Main thread on a core      ${(workShare * 100).toFixed(1)} % of the time; the rest it was free or waited`,
    );
    for (const name of [
      'Pose network',
      'Computes on',
      'Runtime',
      'Measured',
      'Passed over',
      'Work per picture',
      'From capture to number',
      'Age of the number',
    ])
      console.log(`${name.padEnd(26)} ${facts.get(name) ?? 'not shown'}`);
    for (const [type, used] of coresAfter)
      console.log(
        `${`Cores for ${type}`.padEnd(26)} ${((used - (coresBefore.get(type) ?? 0)) / seconds).toFixed(2)}`,
      );
    const longest = Math.max(0, ...long.map(([, length]) => length));
    return [
      {
        text: `main thread free at least ${String(LEAST_FREE_SHARE * 100)} % of ${String(WATCHED_SECONDS)} s of a set: ${(freeShare * 100).toFixed(1)} %`,
        isMet: freeShare >= LEAST_FREE_SHARE,
      },
      {
        text: `no task over ${String(LONG_TASK_MS)} ms in them: ${String(long.length)}, the longest ${longest.toFixed(0)} ms`,
        isMet: long.length === 0,
      },
    ];
  } finally {
    await session.close();
  }
}
