import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { openCameraSession, type CameraSession } from '../../../scripts/bench/camera-session.ts';
import { decodeFrames } from '../../../src/core/session/quantised-frames.ts';

/** Seconds measured before and after, and how long the page or the machine is away. */
const MEASURED_SECONDS = 8;
const AWAY_SECONDS = 12;
/** The app counts in for so long. */
const COUNT_IN_SECONDS = 5;
/** Pictures may need so long to come again, and the last before may not have been measured yet, seconds. */
const SLACK_SECONDS = 3;

/** Times of the pictures of a set in the midst of which something happens, and what was said when it was over. */
async function setWith(away: (session: CameraSession) => Promise<string | null>): Promise<{
  readonly said: string | null;
  readonly timesSeconds: readonly number[];
  readonly isCutOff: boolean;
}> {
  const session = await openCameraSession('free-curl-mirror', { width: 1280, height: 800 });
  try {
    await session.startSet();
    await wait((COUNT_IN_SECONDS + MEASURED_SECONDS) * 1000);
    const said = await away(session);
    await wait(MEASURED_SECONDS * 1000);
    await session.endSet();
    const [set] = (await session.lookBack()).sets;
    if (set === undefined) throw new Error('The record holds no set.');
    return {
      said,
      timesSeconds: decodeFrames(set.frames).map(({ timeSeconds }) => timeSeconds),
      isCutOff: set.cutOff,
    };
  } finally {
    await session.close();
  }
}

/** The longest stretch without a picture: where it begins and how long it is, seconds. */
function longestGap(timesSeconds: readonly number[]): { readonly at: number; readonly seconds: number } {
  return timesSeconds
    .slice(1)
    .map((time, i) => ({ at: timesSeconds[i] ?? time, seconds: time - (timesSeconds[i] ?? time) }))
    .reduce((a, b) => (b.seconds > a.seconds ? b : a), { at: 0, seconds: 0 });
}

describe('a set in the midst of which', () => {
  it('the machine sleeps goes on: every process of the browser stands still for a while', async () => {
    const { said, timesSeconds, isCutOff } = await setWith(async (session) => {
      const pids = await session.pids();
      for (const pid of pids) process.kill(pid, 'SIGSTOP');
      await wait(AWAY_SECONDS * 1000);
      for (const pid of pids) process.kill(pid, 'SIGCONT');
      const sentence = session.page.getByText(/Pictures come again/).first();
      await sentence.waitFor({ timeout: 30_000 }).catch(async (error: unknown) => {
        const shown = await session.page.locator('body').innerText();
        throw new Error(`It was not said that pictures come again; the page shows: ${shown}`, {
          cause: error,
        });
      });
      return sentence.textContent();
    });
    expect(said).toMatch(/^Pictures come again. The pause of \d+ s is not measured; the set goes on.$/);
    expect(isCutOff).toBe(false);
    // What was measured before and after is there.
    const [first = Number.NaN, last = Number.NaN] = [timesSeconds[0], timesSeconds.at(-1)];
    const gap = longestGap(timesSeconds);
    expect(gap.seconds).toBeGreaterThan(AWAY_SECONDS - SLACK_SECONDS);
    expect(gap.at - first).toBeGreaterThan(MEASURED_SECONDS - SLACK_SECONDS);
    expect(last - gap.at - gap.seconds).toBeGreaterThan(MEASURED_SECONDS - SLACK_SECONDS);
  });
});
