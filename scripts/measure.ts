/** `npm run measure -- CLIP-OR-FOLDER ...`: measures clips unattended with the code of the app. See --help. */
import { mkdir, writeFile } from 'node:fs/promises';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { ExerciseSettings } from '../src/core/exercises/exercise.ts';
import { type ClipRow, summaryCsv } from '../src/core/export/summary-csv.ts';
import { findBrowser } from './browser.mjs';
import { HELP, type MeasureRun, readArguments } from './measure/arguments.ts';
import { findClips } from './measure/find-clips.ts';
import { type ClipResult, measureClips } from './measure/measure-clips.ts';
import { summaryTable } from './measure/summary-table.ts';

const DIST = fileURLToPath(new URL('../dist', import.meta.url));

/** More workers than this only wait for the decoder and for memory. */
const MOST_WORKERS = 8;

/** npm starts commands in the project's folder and says in this variable where the person was. */
const startedIn = process.env['INIT_CWD'] ?? process.cwd();

process.exitCode = await main();

async function main(): Promise<number> {
  const asked = readArguments(process.argv.slice(2), startedIn);
  if (asked.kind === 'help') {
    process.stdout.write(HELP);
    return 0;
  }
  if (asked.kind === 'wrong') return wrong(asked.sentence);
  return measure(asked.run);
}

function wrong(sentence: string): number {
  process.stderr.write(`${sentence}\nSee all arguments with: npm run measure -- --help\n`);
  return 2;
}

async function measure({ input, out, settings, ...asked }: MeasureRun): Promise<number> {
  const clips = await findClips(input);
  if (typeof clips === 'string') return wrong(clips);
  const unwritable = await mkdir(out, { recursive: true }).then(
    () => null,
    () => `Nothing can be written to "${out}": choose another folder with --out.`,
  );
  if (unwritable !== null) return wrong(unwritable);
  const browserPath = findBrowser();
  if (browserPath === null) {
    process.stderr.write(
      'No browser was found: install Chrome, Chromium or Edge (on Debian: apt-get install chromium), then try again.\n',
    );
    return 1;
  }
  const workers = asked.workers ?? Math.min(MOST_WORKERS, cpus().length);
  const start = performance.now();
  const results = await measureClips(clips, {
    browserPath,
    distDir: DIST,
    out,
    settings,
    setup: { network: asked.network, rateHz: asked.rateHz, workers },
    // As many clips as workers, so that none waits while a page judges or opens one.
    parallel: workers,
    screen: process.stderr,
    nowSeconds: () => performance.now() / 1000,
  });
  const rows = results.map((result) => rowOf(result, settings));
  await writeFile(join(out, 'summary.csv'), summaryCsv(rows));
  process.stdout.write(`\n${summaryTable(rows, (performance.now() - start) / 1000)}\nWritten to ${out}\n`);
  return rows.some(({ problem }) => problem !== null) ? 1 : 0;
}

function rowOf({ clip, problem, measured, wallSeconds }: ClipResult, settings: ExerciseSettings): ClipRow {
  return {
    clip: clip.file,
    settings,
    durationSeconds: measured?.durationSeconds ?? null,
    frames: measured?.frames ?? null,
    summary: measured?.summary ?? null,
    wallSeconds,
    problem,
  };
}
