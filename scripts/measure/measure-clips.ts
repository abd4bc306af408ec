import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ExerciseSettings } from '../../src/core/exercises/exercise.ts';
import type { ClipMeasured, MeasureOutcome } from '../../src/measure-page.ts';
import { serveFolder } from '../static-server.mjs';
import { convertClip } from './convert-clip.ts';
import type { ClipFile } from './find-clips.ts';
import { type MeasureBrowser, type MeasureTab, startMeasureBrowser } from './measure-browser.ts';
import { runProgress, type Screen } from './progress.ts';

/** What a run needs from outside. */
export interface RunOptions {
  readonly browserPath: string;
  /** The built app. */
  readonly distDir: string;
  readonly out: string;
  readonly settings: ExerciseSettings;
  /** How many clips are measured at the same time, at least 1; results do not depend on it. */
  readonly parallel: number;
  readonly screen: Screen;
  readonly nowSeconds: () => number;
}

/** What became of one clip. */
export interface ClipResult {
  readonly clip: ClipFile;
  /** One sentence, or null when it was measured. */
  readonly problem: string | null;
  /** What is known of it; null when it could not be read to its end. */
  readonly measured: ClipMeasured | null;
  readonly wallSeconds: number;
}

const PAGE_BROKE =
  'The browser broke down while measuring, most likely for want of memory. Cut the clip and try again.';

/**
 * Measures clips, the strongest promise being that one clip's fault never takes the others with it. Writes
 * NAME.record.json and NAME.frames.csv for each; results come back in the clips' order.
 */
export async function measureClips(clips: readonly ClipFile[], options: RunOptions): Promise<ClipResult[]> {
  await mkdir(options.out, { recursive: true });
  const temporary = await mkdtemp(join(tmpdir(), 'forearmed-'));
  const served = new Map(clips.map(({ path }, index) => [addressOf(index), path]));
  const server = await serveFolder(options.distDir, { files: served });
  const browser = await startMeasureBrowser(options.browserPath, `${server.url}measure.html`);
  try {
    return await run({ clips, options, temporary, served, browser });
  } finally {
    await browser.close();
    await server.close();
    await rm(temporary, { recursive: true, force: true });
  }
}

function addressOf(index: number): string {
  return `/clips/${String(index)}`;
}

interface Run {
  readonly clips: readonly ClipFile[];
  readonly options: RunOptions;
  readonly temporary: string;
  /** Address to path; a converted clip takes the original's place. */
  readonly served: Map<string, string>;
  readonly browser: MeasureBrowser;
}

async function run({ clips, options, temporary, served, browser }: Run): Promise<ClipResult[]> {
  const { screen, nowSeconds, settings, out } = options;
  const tab = await browser.openTab();
  const durations: (number | null)[] = [];
  const preparing: number[] = [];
  for (const [index, clip] of clips.entries()) {
    const start = nowSeconds();
    let header = await tab.readHeader(addressOf(index));
    if (header.problem === 'clip-codec-unknown' || header.problem === 'source-unknown') {
      screen.write(`${clip.file}: the browser cannot decode it; trying to convert it with ffmpeg ...\n`);
      const converted = join(temporary, `${String(index)}.mp4`);
      if (await convertClip(clip.path, converted)) {
        served.set(addressOf(index), converted);
        header = await tab.readHeader(addressOf(index));
      }
    }
    preparing.push(nowSeconds() - start);
    durations.push(header.problem === null ? header.durationSeconds : 0);
  }

  const progress = runProgress(durations, screen, nowSeconds);
  const results: ClipResult[] = [];
  const waiting = [...clips.entries()];

  const measureOne = async (own: MeasureTab, index: number, clip: ClipFile): Promise<MeasureTab> => {
    const start = nowSeconds();
    const job = { url: addressOf(index), label: clip.file, settings };
    const outcome = await own
      .measure(job, (seconds) => progress.clipAt(index, seconds))
      .catch((): MeasureOutcome => ({ problem: PAGE_BROKE, isPageSpent: true, measured: null }));
    const { measured, problem } = outcome;
    if (measured !== null) {
      await writeFile(join(out, `${clip.name}.record.json`), measured.recordJson);
      await writeFile(join(out, `${clip.name}.frames.csv`), measured.framesCsv);
    }
    results[index] = { clip, problem, measured, wallSeconds: (preparing[index] ?? 0) + nowSeconds() - start };
    progress.clipDone(index);
    if (problem !== null) progress.say(`${clip.file}: ${problem}`);
    if (!outcome.isPageSpent) return own;
    await own.close().catch(() => undefined);
    return browser.openTab();
  };

  const worker = async (first: MeasureTab): Promise<void> => {
    let own = first;
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift())
      own = await measureOne(own, ...next);
    await own.close();
  };
  const tabs = Math.min(options.parallel, clips.length);
  const others = await Promise.all(Array.from({ length: tabs - 1 }, () => browser.openTab()));
  await Promise.all([tab, ...others].map(worker));
  progress.end();
  return results;
}
