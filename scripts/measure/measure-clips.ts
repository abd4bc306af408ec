import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ExerciseSettings } from '../../src/core/exercises/exercise.ts';
import type { ClipMeasured, MeasureSetup } from '../../src/measure-page.ts';
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
  readonly setup: MeasureSetup;
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
  /** Clips whose page broke down while it measured others too: whose fault it was shows when each is alone. */
  const again: (readonly [number, ClipFile])[] = [];

  const measureOne = async (desk: Desk, index: number, clip: ClipFile): Promise<void> => {
    const start = nowSeconds();
    const own = await desk.tab;
    const job = { url: addressOf(index), label: clip.file, settings, setup: options.setup };
    desk.busy += 1;
    let wasAlone = desk.busy === 1;
    const outcome = await own
      .measure(job, (share) => {
        wasAlone &&= desk.busy === 1;
        progress.clipAt(index, share);
      })
      .catch(() => null);
    desk.busy -= 1;
    if ((outcome === null || outcome.isPageSpent) && own === (await desk.tab)) {
      desk.tab = browser.openTab();
      await own.close().catch(() => undefined);
    }
    if (outcome === null && !wasAlone) {
      again.push([index, clip]);
      return;
    }
    const { measured, problem } = outcome ?? { measured: null, problem: PAGE_BROKE };
    if (measured !== null) {
      await writeFile(join(out, `${clip.name}.record.json`), measured.recordJson);
      await writeFile(join(out, `${clip.name}.frames.csv`), measured.framesCsv);
    }
    results[index] = { clip, problem, measured, wallSeconds: (preparing[index] ?? 0) + nowSeconds() - start };
    progress.clipDone(index);
    if (problem !== null) progress.say(`${clip.file}: ${problem}`);
  };

  const worker = async (desk: Desk): Promise<void> => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift())
      await measureOne(desk, ...next);
  };
  const first: Desk = { tab: Promise.resolve(tab), busy: 0 };
  const parallel = Math.min(options.parallel, clips.length);
  // The library computes on the page itself, so that each clip needs its own.
  const isOnPage = options.setup.network === 'library-full';
  const others = Array.from({ length: parallel - 1 }, () =>
    isOnPage ? { tab: browser.openTab(), busy: 0 } : first,
  );
  await Promise.all([first, ...others].map(worker));
  for (const [index, clip] of again) await measureOne({ tab: browser.openTab(), busy: 0 }, index, clip);
  progress.end();
  return results;
}

/** A page at which clips are measured; when it breaks down another takes its place. */
interface Desk {
  tab: Promise<MeasureTab>;
  /** Clips that are being measured at it. */
  busy: number;
}
