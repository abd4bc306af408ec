import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { ROOT } from '../bootstrap.mjs';
import { findBrowser } from '../browser.mjs';
import { measureClips } from '../measure/measure-clips.ts';
import type { Goal } from './networks.ts';
import { openBench } from './open-bench.ts';
import { spreadOf } from './spread.ts';

/** Pictures measured a second of the clip's time, with the full network: as the app measures clips. */
const RATE_HZ = 15;
const LEAST_OF_REAL_TIME = 1.5;
const LEAST_SPEED_UP = 1.6;
const ROUNDS = 2;
/** Pictures by which the machine's own limit is timed. */
const LIMIT_PICTURES = 60;

/** One clip measured by one worker and by two, by turns; the best round of each counts. Loading is counted too. */
export async function benchClips(clipPath: string): Promise<Goal[]> {
  const best = new Map<
    number,
    { readonly seconds: number; readonly record: string; readonly lengthSeconds: number }
  >();
  for (let round = 0; round < ROUNDS; round += 1)
    for (const workers of [1, 2]) {
      const run = await measured(clipPath, workers);
      console.log(
        `${String(workers)} ${workers === 1 ? 'worker: ' : 'workers:'} ${run.lengthSeconds.toFixed(1)} s of clip in ${run.seconds.toFixed(1)} s, ` +
          `${(run.lengthSeconds / run.seconds).toFixed(2)} times real time`,
      );
      if (run.seconds < (best.get(workers)?.seconds ?? Infinity)) best.set(workers, run);
    }
  await printLimit(clipPath);
  const [one, two] = [best.get(1), best.get(2)];
  if (one === undefined || two === undefined) throw new Error('benchClips: no run.');
  const speed = two.lengthSeconds / two.seconds;
  const speedUp = one.seconds / two.seconds;
  return [
    {
      text: `full at ${String(RATE_HZ)} pictures a second, two workers: at least ${String(LEAST_OF_REAL_TIME)} times real time: ${speed.toFixed(2)}`,
      isMet: speed >= LEAST_OF_REAL_TIME,
    },
    {
      text: `two workers at least ${String(LEAST_SPEED_UP)} times as fast as one: ${speedUp.toFixed(2)}`,
      isMet: speedUp >= LEAST_SPEED_UP,
    },
    {
      text: `the same record from one worker and from two, but for its name and time: ${one.record === two.record ? 'yes' : 'no'}`,
      isMet: one.record === two.record,
    },
  ];
}

/** How much faster two bare networks are than one where nothing else is done: more than this no clip can gain. */
async function printLimit(clipPath: string): Promise<void> {
  const clip = '/clip.mp4';
  const bench = await openBench(new Map([[clip, clipPath]]));
  try {
    const page = await bench.openPage();
    const kernelMs = async (workers: number): Promise<number> => {
      const samples = await page.evaluate(
        ([count, url, pictures]) => window.benchPage.raceTogether(count, 'full', url, pictures),
        [workers, clip, LIMIT_PICTURES] as const,
      );
      return spreadOf(samples.map((sample) => sample.kernelMs)).median;
    };
    const [alone, together] = [await kernelMs(1), await kernelMs(2)];
    console.log(
      `limit: the bare network takes ${alone.toFixed(1)} ms alone and ${together.toFixed(1)} ms beside a second one: ` +
        `two are ${((2 * alone) / together).toFixed(2)} times as fast as one`,
    );
  } finally {
    await bench.close();
  }
}

async function measured(clipPath: string, workers: number) {
  const browserPath = findBrowser();
  if (browserPath === null) throw new Error('No Chrome, Chromium or Edge was found.');
  const out = await mkdtemp(join(tmpdir(), 'forearmed-bench-'));
  const silent = { isTTY: false, columns: 80, write: () => true };
  try {
    const [result] = await measureClips([{ path: clipPath, file: basename(clipPath), name: 'clip' }], {
      browserPath,
      distDir: join(ROOT, 'dist'),
      out,
      settings: { exercise: 'free-curl', side: 'right', variant: null, statureCm: 178 },
      setup: { network: 'full', rateHz: RATE_HZ, workers },
      parallel: 1,
      screen: silent,
      nowSeconds: () => performance.now() / 1000,
    });
    if (result?.measured === null || result === undefined) throw new Error('The clip could not be measured.');
    return {
      seconds: result.wallSeconds,
      lengthSeconds: result.measured.durationSeconds,
      record: withoutNameAndTime(result.measured.recordJson),
    };
  } finally {
    await rm(out, { recursive: true, force: true });
  }
}

/** Two measurements of one clip differ by their number and the moment at which they were made. */
function withoutNameAndTime(recordJson: string): string {
  return recordJson
    .replace(/"id":"[^"]*"/, '"id":""')
    .replace(/"createdAt":"[^"]*"/, '"createdAt":""')
    .replaceAll(/"startedAt":"[^"]*"/g, '"startedAt":""');
}
