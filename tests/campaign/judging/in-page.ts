import { mount } from 'svelte';
import { JudgingWorker } from '../../../src/adapters/judging/judging-worker.ts';
import { openSessionStore } from '../../../src/adapters/storage/open-session-store.ts';
import { MemoryPlanStore } from '../../../src/adapters/storage/memory-plan-store.ts';
import { momentOf } from '../../../src/adapters/clock/moment.ts';
import { MemoryReviewStore } from '../../../src/adapters/storage/memory-review-store.ts';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import type { ExerciseSettings } from '../../../src/core/exercises/exercise.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { encodeFrames, type FrameSeries } from '../../../src/core/session/quantised-frames.ts';
import { SessionRecorder } from '../../../src/core/session/recorder.ts';
import type { SetFindings } from '../../../src/core/session/session-record.ts';
import type { SessionStore } from '../../../src/core/session/session-store.ts';
import { AppNavigation } from '../../../src/state/app-navigation.svelte.ts';
import { Caseload } from '../../../src/state/caseload.svelte.ts';
import { ReviewDesk } from '../../../src/state/review-desk.svelte.ts';
import { Review } from '../../../src/state/review.svelte.ts';
import { Settings } from '../../../src/state/settings.svelte.ts';
import { Shelf } from '../../../src/state/shelf.svelte.ts';
import '../../../src/ui/common/tokens.css';
import { costSet } from '../../../scripts/cost/cost-set.ts';
import { sampleHeader } from '../../unit/session/sample-session.ts';
import Screens from '../../browser/ui-look-back/Screens.svelte';

/** What a piece of work cost the page. */
export interface Watched<Result> {
  readonly result: Result;
  /** The longest task of at least 50 ms, milliseconds; 0 when there was none. */
  readonly longestTaskMs: number;
  /** The longest time in which a timer of 4 ms had no turn. */
  readonly longestGapMs: number;
  readonly seconds: number;
}

/** What the tests call in the page. */
export interface JudgingPage {
  /** Makes a set of so many minutes; its frames stay in the page. */
  prepare(settings: ExerciseSettings, minutes: number): void;
  /** Judges the prepared set. `killAfterMs` kills the worker that is at it then. */
  judge(killAfterMs: number | null): Promise<Watched<SetFindings>>;
  /** Judges it with workers that die as soon as they are started. */
  judgeWithoutWorkers(): Promise<SetFindings>;
  /** Records the prepared set as it comes live, ends it and the session. */
  record(): Promise<Watched<SetFindings>>;
  /** Keeps the prepared set in a store, and shows Look back of it; settles when its trace is there. */
  lookBack(store: 'database' | 'visit'): Promise<Watched<null>>;
  /** Moves the cursor over the whole trace in steps; the longest step with its drawing, milliseconds. */
  drag(steps: number): Promise<Watched<number>>;
  /** How many workers were started so far. */
  startedWorkers(): number;
}

declare global {
  interface Window {
    judgingPage: JudgingPage;
  }
}

const GAP_MS = 4;
const workers: Worker[] = [];
const judging = new JudgingWorker(() => {
  const worker = new Worker(new URL('../../../src/judge-worker.ts', import.meta.url), { type: 'module' });
  workers.push(worker);
  return worker;
});

let prepared: { readonly settings: ExerciseSettings; readonly minutes: number } | null = null;
let frames: PoseFrame[] = [];
let pieces: FrameSeries[] = [];

function given(): NonNullable<typeof prepared> {
  if (prepared === null) throw new Error('Prepare a set first.');
  return prepared;
}

async function watched<Result>(work: () => Promise<Result>): Promise<Watched<Result>> {
  await settled();
  const tasks: number[] = [];
  const observer = new PerformanceObserver((list) => {
    tasks.push(...list.getEntries().map(({ duration }) => duration));
  });
  observer.observe({ type: 'longtask' });
  let longestGapMs = 0;
  let last = performance.now();
  const timer = setInterval(() => {
    const now = performance.now();
    longestGapMs = Math.max(longestGapMs, now - last - GAP_MS);
    last = now;
  }, GAP_MS);
  const from = performance.now();
  const result = await work();
  const seconds = (performance.now() - from) / 1000;
  await settled();
  clearInterval(timer);
  tasks.push(...observer.takeRecords().map(({ duration }) => duration));
  observer.disconnect();
  return { result, longestTaskMs: Math.max(0, ...tasks), longestGapMs, seconds };
}

/** Lets what went on before come to its end, and the observer say what it saw. */
function settled(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 300));
}

function until(isSo: () => boolean): Promise<void> {
  return new Promise((resolve) => {
    const look = (): void => {
      if (isSo()) resolve();
      else requestAnimationFrame(look);
    };
    look();
  });
}

/** Kills the worker with a place in the list, so long after it was started. */
async function killOne(place: number, afterMs: number): Promise<void> {
  await until(() => workers.length > place);
  setTimeout(() => workers[place]?.terminate(), afterMs);
}

async function keep(store: SessionStore): Promise<string> {
  const header = { ...sampleHeader(given().settings.exercise), id: crypto.randomUUID() };
  const place = { sessionId: header.id, setIndex: 0 };
  await store.beginSession(header);
  await store.beginSet(place, { startedAt: header.createdAt, painBefore: null });
  for (const [index, piece] of pieces.entries()) await store.appendFrames(place, index, piece);
  await store.finishSession(header.id);
  return header.id;
}

window.judgingPage = {
  prepare(settings, minutes) {
    prepared = { settings, minutes };
    frames = costSet(settings, 60 * minutes);
    pieces = [];
    for (let from = 0; from < frames.length; from += 16)
      pieces.push(encodeFrames(frames.slice(from, from + 16)));
  },

  judge(killAfterMs) {
    if (killAfterMs !== null) void killOne(workers.length, killAfterMs);
    return watched(() => judging.judge(pieces, given().settings, DEFAULT_THRESHOLDS, 'blazepose-full'));
  },

  judgeWithoutWorkers() {
    const dying = new JudgingWorker(() => {
      const url = URL.createObjectURL(
        new Blob(['throw new Error("made to die")'], { type: 'text/javascript' }),
      );
      return new Worker(url, { type: 'module' });
    });
    return dying.judge(pieces, given().settings, DEFAULT_THRESHOLDS, 'blazepose-full');
  },

  async record() {
    const { settings } = given();
    const header = { ...sampleHeader(settings.exercise), id: crypto.randomUUID() };
    const { store } = await openSessionStore(judging);
    const nowSeconds = (): number => performance.now() / 1000;
    const recorder = new SessionRecorder({ store, judge: judging, header, nowSeconds });
    return watched(async () => {
      recorder.beginSet({ startedAt: header.createdAt, painBefore: null });
      for (const [index, frame] of frames.entries()) {
        recorder.addFrame(frame);
        // As many at a time as come in a second: the page has its turns in between, as it has live.
        if (index % 30 === 29) await new Promise((resolve) => setTimeout(resolve));
      }
      const findings = await recorder.finishSet();
      await recorder.finish();
      if (recorder.problem !== null) throw new Error(recorder.problem);
      return findings;
    });
  },

  async lookBack(kind) {
    const store = kind === 'visit' ? new MemorySessionStore() : (await openSessionStore(judging)).store;
    const sessionId = await keep(store);
    document.body.replaceChildren();
    location.hash = '#/sessions';
    const navigation = new AppNavigation();
    const plans = new MemoryPlanStore();
    const review = new Review(judging.recordsOf(store), plans);
    const reviews = new MemoryReviewStore();
    const moment = () => momentOf(new Date());
    const caseload = new Caseload({
      plans,
      reviews: () => Promise.resolve(reviews),
      records: judging.recordsOf(store),
      moment,
      nowSeconds: () => performance.now() / 1000,
    });
    const desk = new ReviewDesk({
      store: reviews,
      plans,
      settings: new Settings({ read: () => null, write: () => undefined }),
      moment,
      newId: () => crypto.randomUUID(),
    });
    const loadCaseload = () => Promise.resolve(caseload);
    const loadDesk = () => Promise.resolve(desk);
    const shelf = new Shelf(store);
    const props = { review, shelf, navigation, measureAgain: null, loadCaseload, loadDesk };
    mount(Screens, { target: document.body, props });
    return watched(async () => {
      navigation.go({ screen: 'look-back', sessionId });
      await until(() => document.querySelector('[role=slider] path.curve') !== null);
      await until(() => document.querySelector('progress') === null);
      return null;
    });
  },

  async drag(steps) {
    const slider = document.querySelector('[role=slider]');
    if (!(slider instanceof HTMLElement)) throw new Error('There is no trace.');
    const { left, width, top } = slider.getBoundingClientRect();
    const point = (share: number): PointerEventInit => ({
      bubbles: true,
      pointerId: 1,
      button: 0,
      clientX: left + 60 + share * (width - 90),
      clientY: top + 60,
    });
    // No real pointer is down that could be captured.
    slider.setPointerCapture = () => undefined;
    return watched(async () => {
      let longestMs = 0;
      slider.dispatchEvent(new PointerEvent('pointerdown', point(0)));
      for (let step = 1; step <= steps; step++) {
        await new Promise(requestAnimationFrame);
        const from = performance.now();
        slider.dispatchEvent(new PointerEvent('pointermove', point(step / steps)));
        // Svelte has put the change into the page in a microtask; asking for a size makes the browser lay it out.
        await Promise.resolve();
        slider.getBoundingClientRect();
        longestMs = Math.max(longestMs, performance.now() - from);
      }
      slider.dispatchEvent(new PointerEvent('pointerup', point(1)));
      return longestMs;
    });
  },

  startedWorkers: () => workers.length,
};
