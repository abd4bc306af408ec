/**
 * `npm run soak -- [--minutes 20] [--window laptop|phone|both]`: the built app at a camera for a long time, set after set;
 * "both" changes the window with every set.
 * Watches memory, leaked pictures and clocks. Ends with 1 when something grows, leaks or drifts.
 */
import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { openCameraSession } from './bench/camera-session.ts';
import { spreadOf } from './bench/spread.ts';
import { decodeFrames } from '../src/core/session/quantised-frames.ts';
import type { SessionRecord } from '../src/core/session/session-record.ts';

/** Memory may be so much above that of the minutes right after start-up. */
const MOST_GROWTH = 0.05;
/** Minutes after which the app has taken all the memory that it needs. */
const SETTLED_MINUTES = 2;
/** Pictures' clock against the wall's, from the first set to the last, seconds. */
const MOST_DRIFT_SECONDS = 0.25;

const WINDOWS = { laptop: { width: 1280, height: 800 }, phone: { width: 390, height: 844 } } as const;

/** A set and the pause after it, seconds: as people train. */
const SET_SECONDS = 60;
const PAUSE_SECONDS = 10;

const { values } = parseArgs({
  options: { minutes: { type: 'string', default: '20' }, window: { type: 'string', default: 'both' } },
});
const minutes = Number(values.minutes);
const sizes = { laptop: [WINDOWS.laptop], phone: [WINDOWS.phone], both: [WINDOWS.laptop, WINDOWS.phone] };
const windows = Object.entries(sizes).find(([name]) => name === values.window)?.[1];
const [firstWindow] = windows ?? [];
if (!(minutes > 0) || windows === undefined || firstWindow === undefined) {
  console.error(
    'Give minutes above 0 and the window laptop, phone or both: npm run soak -- --minutes 20 --window phone',
  );
  process.exit(2);
}

interface Sample {
  readonly minute: number;
  /** Of the page's process: everything that it holds. */
  readonly residentMb: number;
  /** Of the page's own scripts, after a collection. */
  readonly heapMb: number;
}

const session = await openCameraSession('free-curl-mirror', firstWindow);
const started = Date.now();
const samples: Sample[] = [];
console.log('minute   process MB   scripts MB');
for (let set = 0; Date.now() - started < minutes * 60_000; set += 1) {
  await session.page.setViewportSize(windows[set % windows.length] ?? firstWindow);
  await session.startSet();
  await sampleFor(SET_SECONDS);
  await session.endSet();
  await sampleFor(PAUSE_SECONDS);
}
const facts = await session.facts();
const record = await session.lookBack();
await session.close();
report(record);

async function sampleFor(seconds: number): Promise<void> {
  const until = Date.now() + seconds * 1000;
  while (Date.now() < until) {
    await session.page.waitForTimeout(Math.min(10_000, Math.max(0, until - Date.now())));
    const sample = await takeSample();
    samples.push(sample);
    console.log(
      `${sample.minute.toFixed(1).padStart(6)}${sample.residentMb.toFixed(0).padStart(13)}${sample.heapMb.toFixed(1).padStart(13)}`,
    );
  }
}

async function takeSample(): Promise<Sample> {
  await session.devtools.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.devtools.send('Runtime.getHeapUsage');
  const resident = await Promise.all((await session.pids('renderer')).map(residentBytes));
  return {
    minute: (Date.now() - started) / 60_000,
    residentMb: Math.max(...resident) / 1e6,
    heapMb: usedSize / 1e6,
  };
}

/** Memory of a process that is really there. Linux only: /proc. */
async function residentBytes(pid: number): Promise<number> {
  const status = await readFile(`/proc/${String(pid)}/status`, 'utf8');
  return Number(/VmRSS:\s+(\d+) kB/.exec(status)?.[1] ?? 0) * 1024;
}

function report({ sets }: SessionRecord): void {
  const between = (from: number, to: number): number[] =>
    samples.filter(({ minute }) => minute >= from && minute < to).map(({ residentMb }) => residentMb);
  const early = spreadOf(between(SETTLED_MINUTES, SETTLED_MINUTES + 2)).median;
  const late = spreadOf(between(minutes - 2, Infinity)).median;
  const growth = late / early - 1;
  const times = sets.map((set) => decodeFrames(set.frames).map(({ timeSeconds }) => timeSeconds));
  const starts = sets.map(({ startedAt }, index) => ({
    wall: Date.parse(startedAt) / 1000,
    picture: times[index]?.[0] ?? Number.NaN,
  }));
  // From a set's start to its first picture by either clock: what grows from set to set is drift, what jumps is waiting.
  const leads = starts.map(
    ({ wall, picture }) => picture - wall - ((starts[0]?.picture ?? 0) - (starts[0]?.wall ?? 0)),
  );
  console.log(
    `pictures ahead of the wall's clock, set by set, ms: ${leads.map((lead) => (lead * 1000).toFixed(0)).join(' ')}`,
  );
  const drift = leads.at(-1) ?? Number.NaN;
  const leaked = session.complaints.filter((text) => /garbage collected without being closed/i.test(text));
  // The network's runtime says at every start that there is no graphics processor, where there is none.
  const other = session.complaints.filter(
    (text) => !leaked.includes(text) && !text.includes('No GPU adapter found'),
  );
  console.log(`\n${String(sets.length)} sets, ${String(times.flat().length)} pictures measured`);
  for (const name of ['Measured', 'From capture to number', 'Age of the number'])
    console.log(`${name}: ${facts.get(name) ?? 'not shown'}`);
  const goals = [
    [
      `memory within ${String(MOST_GROWTH * 100)} %: ${early.toFixed(0)} to ${late.toFixed(0)} MB, ${(growth * 100).toFixed(1)} %`,
      growth <= MOST_GROWTH,
    ],
    [
      `pictures' clock against the wall's: ${(drift * 1000).toFixed(0)} ms`,
      Math.abs(drift) <= MOST_DRIFT_SECONDS,
    ],
    [`pictures never closed: ${String(leaked.length)}`, leaked.length === 0],
    [`other complaints: ${String(other.length)} ${other[0] ?? ''}`, other.length === 0],
  ] as const;
  for (const [text, isMet] of goals) console.log(`${isMet ? 'met   ' : 'MISSED'}  ${text}`);
  process.exitCode = goals.every(([, isMet]) => isMet) ? 0 : 1;
}
