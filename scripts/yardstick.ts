/**
 * `npm run yardstick`: draws the moments of the yardstick's cases, has the pose networks look at them and keeps what
 * they found in tests/yardstick/traces. A case whose kept trace is of the same pictures is not drawn again.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { createScenario } from '../demo-clips/generator/scenario.ts';
import {
  yardstickCases,
  type YardstickCase,
  type YardstickSet,
} from '../demo-clips/generator/yardstick/cases.ts';
import { recordSentence } from '../src/core/feedback/storage-problems.ts';
import { median } from '../src/core/math/statistics.ts';
import { readRecord } from '../src/core/session/migrations.ts';
import { decodeFrames } from '../src/core/session/quantised-frames.ts';
import { BODY_PARTS } from '../tests/yardstick/landmark-noise.ts';
import { hasTrace, readTrace, TRACE_FOLDER, writeTrace } from '../tests/yardstick/trace-files.ts';
import { isCurrent, TRACE_MODELS, traceOf } from '../tests/yardstick/trace.ts';
import { findBrowser } from './browser.mjs';
import { runProgress } from './measure/progress.ts';
import { betweenMoments } from './yardstick/between-moments.ts';
import { drawCases } from './yardstick/draw-cases.ts';
import { measureTremble } from './yardstick/measure-tremble.ts';
import { servePages } from './yardstick/open-pages.ts';

const HELP = `npm run yardstick -- [--set developing|proof|both] [--only ID-PART] [--pages N]

Draws the yardstick's cases, has the pose networks look at each picture and keeps what they found in
tests/yardstick/traces. What is kept and current is not drawn again; what was kept before an interruption stays.
  --set          which cases (default: both)
  --only         only cases whose id contains this
  --pages        browsers side by side, 1 to 8 (default: 2)
  --browser      the Chromium to draw with (default: the one found on this machine)

  --dense N      instead: draws the cases at N moments, keeps that in .cache/yardstick-dense, and says what
                 interpolation misses at the moments that the case itself does not draw
  --stills DIR   instead: writes one picture of each case into DIR, to be looked at
  --tremble FILE ...   instead: how landmarks tremble from picture to picture in session records measured with
                 npm run measure -- CLIP --rate all; the table in tests/yardstick/landmark-noise.ts comes from it
Ends with 0, or 1 when something failed, or 2 for wrong arguments.`;

const DENSE_FOLDER = join(import.meta.dirname, '..', '.cache', 'yardstick-dense');
const MOST_PAGES = 8;

const OPTIONS = {
  set: { type: 'string', default: 'both' },
  only: { type: 'string', default: '' },
  pages: { type: 'string', default: '2' },
  browser: { type: 'string' },
  dense: { type: 'string' },
  stills: { type: 'string' },
  tremble: { type: 'boolean', default: false },
  help: { type: 'boolean', default: false },
} as const;

/** The cases of a set, one of every cell before the second of any: what is broken off is then spread evenly. */
function cellByCell(set: YardstickSet): YardstickCase[] {
  const numberOf = ({ id }: YardstickCase): string => id.slice(id.lastIndexOf('-'));
  return yardstickCases(set).toSorted((a, b) => numberOf(a).localeCompare(numberOf(b)));
}

/** Draws what is not kept in the folder. Returns false when there is no browser. */
async function draw(
  cases: readonly YardstickCase[],
  folder: string,
  pageCount: number,
  browserPath: string | null,
): Promise<boolean> {
  const missing = cases.filter(
    (one) => !hasTrace(one.id, folder) || !isCurrent(one, readTrace(one.id, folder)),
  );
  console.log(`${String(cases.length)} cases, ${String(missing.length)} to draw`);
  if (missing.length === 0) return true;
  if (browserPath === null) {
    console.error('No browser was found to draw with. Install Chromium, or name one with --browser PATH.');
    return false;
  }
  const pages = await servePages(browserPath);
  const pictures = missing.map(({ drawnTimesSeconds }) => drawnTimesSeconds.length);
  const progress = runProgress(pictures, process.stdout, () => performance.now() / 1000);
  const times: { drawMs: number; networkMs: number }[] = [];
  try {
    await drawCases(missing, pages, pageCount, {
      pictureDone(drawnCase, share, { drawMs, networkMs }) {
        times.push({ drawMs, networkMs });
        progress.clipAt(missing.indexOf(drawnCase), share);
      },
      caseDone(drawnCase, found) {
        const bytes = writeTrace(traceOf(drawnCase, found), folder);
        progress.clipDone(missing.indexOf(drawnCase));
        const nobody = TRACE_MODELS.map((model) => found[model].filter((pose) => pose === null).length);
        progress.say(`${drawnCase.id}  ${(bytes / 1000).toFixed(1)} kB, nobody found: ${nobody.join(' ')}`);
      },
      restarted(drawnCase, error) {
        progress.say(`${drawnCase.id}: the page is opened anew (${String(error)})`);
      },
    });
  } finally {
    await pages.close();
    const medianOf = (of: 'drawMs' | 'networkMs'): string =>
      (median(times.map((one) => one[of])) ?? NaN).toFixed(0);
    progress.say(
      `a picture took ${medianOf('drawMs')} ms to draw, ${medianOf('networkMs')} ms to look at (medians)`,
    );
  }
  return true;
}

/** The case with so many moments spread evenly over its performance. */
function denseCase(one: YardstickCase, moments: number): YardstickCase {
  const { durationS } = createScenario(one.outline);
  const drawnTimesSeconds = Array.from({ length: moments }, (_, i) => ((i + 0.5) * durationS) / moments);
  return { ...one, drawnTimesSeconds };
}

function compareBetween(sparse: YardstickCase, dense: YardstickCase): void {
  const trace = readTrace(dense.id, DENSE_FOLDER);
  const keep = sparse.drawnTimesSeconds.length;
  for (const model of TRACE_MODELS) {
    const missed = betweenMoments(dense, trace, model, keep);
    const row = (of: { armPx: number; elbowDeg: number }): string =>
      `${of.armPx.toFixed(2)} px, ${of.elbowDeg.toFixed(2)} deg`;
    console.log(
      `${dense.id} ${model}: ` +
        (missed === null
          ? 'nothing to compare'
          : `${String(keep)} moments given, ${String(missed.moments)} compared; interpolated from found: ` +
            `${row(missed.interpolated)}; found from truth: ${row(missed.network)} (rms)`),
    );
  }
}

/** Writes the middle one of each case's pictures into a folder. Returns false when there is no browser. */
async function writeStills(
  cases: readonly YardstickCase[],
  folder: string,
  browserPath: string | null,
): Promise<boolean> {
  if (browserPath === null) return false;
  mkdirSync(folder, { recursive: true });
  const pages = await servePages(browserPath);
  const { page, close } = await pages.openPage();
  for (const { id, drawnTimesSeconds } of cases) {
    const time = drawnTimesSeconds[Math.floor(drawnTimesSeconds.length / 2)] ?? 0;
    const address = await page.evaluate(([name, seconds]) => window.yardstickPage.still(name, seconds), [
      id,
      time,
    ] as const);
    writeFileSync(join(folder, `${id}.jpg`), Buffer.from(address.split(',')[1] ?? '', 'base64'));
  }
  await close();
  await pages.close();
  return true;
}

/** Prints how landmarks tremble in a record's sets. Returns false for a file that is no record. */
function tremble(path: string): boolean {
  const reading = readRecord(readFileSync(resolve(process.env['INIT_CWD'] ?? '.', path), 'utf8'));
  if (!reading.ok) {
    console.error(`${basename(path)}: ${recordSentence(reading.problem)}`);
    return false;
  }
  for (const set of reading.record.sets) {
    const table = measureTremble(decodeFrames(set.frames), reading.record.settings.side);
    console.log(basename(path));
    for (const part of BODY_PARTS)
      for (const where of ['near', 'far'] as const) {
        const { imageTrunks, worldM, depthM } = table[where][part];
        console.log(
          `  ${where.padEnd(5)}${part.padEnd(10)}image ${imageTrunks.toFixed(5)} trunks, ` +
            `world ${worldM.toFixed(5)} m, depth ${depthM.toFixed(5)} m`,
        );
      }
  }
  return true;
}

async function main(): Promise<number> {
  let parsed;
  try {
    parsed = parseArgs({ options: OPTIONS, allowPositionals: true });
  } catch (error) {
    console.error(`${error instanceof Error ? error.message : 'Wrong arguments.'}\n\n${HELP}`);
    return 2;
  }
  const { values, positionals } = parsed;
  if (values.help) {
    console.log(HELP);
    return 0;
  }
  if (values.tremble) return positionals.every(tremble) ? 0 : 1;
  const pages = Number(values.pages);
  const moments = values.dense === undefined ? null : Number(values.dense);
  const sets = (['developing', 'proof'] as const).filter(
    (set) => values.set === set || values.set === 'both',
  );
  const isCount = (value: number, most: number): boolean =>
    Number.isInteger(value) && value > 0 && value <= most;
  if (sets.length === 0 || !isCount(pages, MOST_PAGES) || (moments !== null && !isCount(moments, 1000))) {
    console.error(HELP);
    return 2;
  }
  const cases = sets.flatMap(cellByCell).filter(({ id }) => id.includes(values.only));
  const browserPath = values.browser ?? findBrowser();
  if (values.stills !== undefined) {
    const folder = resolve(process.env['INIT_CWD'] ?? '.', values.stills);
    return (await writeStills(cases, folder, browserPath)) ? 0 : 1;
  }
  if (moments === null) return (await draw(cases, TRACE_FOLDER, pages, browserPath)) ? 0 : 1;
  const dense = cases.map((one) => denseCase(one, moments));
  if (!(await draw(dense, DENSE_FOLDER, pages, browserPath))) return 1;
  cases.forEach((one, index) => {
    const drawn = dense[index];
    if (drawn !== undefined) compareBetween(one, drawn);
  });
  return 0;
}

try {
  process.exitCode = await main();
} catch (error) {
  const [said, cause] = error instanceof Error ? [error.message, error.cause] : [String(error), undefined];
  console.error(cause instanceof Error ? `${said} ${cause.message}` : said);
  process.exitCode = 1;
}
