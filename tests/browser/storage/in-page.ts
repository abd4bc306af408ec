import { Dexie } from 'dexie';
import { IdbPlanStore } from '../../../src/adapters/storage/idb-plan-store.ts';
import { IdbSessionStore } from '../../../src/adapters/storage/idb-session-store.ts';
import { openSessionStore } from '../../../src/adapters/storage/open-session-store.ts';
import { recordStream } from '../../../src/adapters/video/record-stream.ts';
import { makeSeekable } from '../../../src/adapters/video/seekable-video.ts';
import { SessionDatabase } from '../../../src/adapters/storage/session-database.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { recomputeSet } from '../../../src/core/session/build-session.ts';
import { differences } from '../../../src/core/session/differences.ts';
import { decodeFrames } from '../../../src/core/session/quantised-frames.ts';
import { SessionRecorder } from '../../../src/core/session/recorder.ts';
import {
  findingsOf,
  RECORD_FORMAT,
  RECORD_VERSION,
  type SessionHeader,
  type SessionRecord,
} from '../../../src/core/session/session-record.ts';
import type { SessionState } from '../../../src/core/session/session-store.ts';
import type { StorageProblem } from '../../../src/core/stored.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';
import { curl, NETWORK_NOISE, SyntheticNetwork } from '../../helpers/synthetic-body.ts';

/*
 * Runs in a real browser: records an invented person in real time with the recorder and the store of the app, and
 * tells from outside what a store holds.
 */

/** What the page says of itself with every frame; the last one that came tells what a kill has cost. */
export interface Progress {
  readonly setIndex: number;
  readonly isOpen: boolean;
  readonly frames: number;
  readonly firstFrameSeconds: number;
  readonly lastFrameSeconds: number;
  /** When this was said, milliseconds of the wall clock. */
  readonly saidAtMs: number;
}

/** A set as the store has it. */
export interface KeptSetFacts {
  readonly frames: number;
  readonly lastFrameSeconds: number;
  readonly cutOff: boolean;
  readonly repetitions: number;
  /** Where working the set out again differs from what is kept. */
  readonly differences: readonly string[];
}

/** A session as the store has it. */
export interface KeptFacts {
  readonly state: SessionState | 'not listed';
  readonly problem: StorageProblem | null;
  readonly sets: readonly KeptSetFacts[];
}

/** What tests call in this page. */
export interface StoragePage {
  /** Records sets of so many seconds with a short rest between them, until the page ends. */
  recordForEver(sessionId: string, setSeconds: number): void;
  /** Records one set as fast as it can be written, and ends the session. */
  recordFast(sessionId: string, seconds: number): Promise<void>;
  inspect(sessionId: string): Promise<KeptFacts>;
  finish(sessionId: string): Promise<StorageProblem | null>;
}

declare global {
  interface Window {
    storagePage?: StoragePage;
    storageParts?: typeof parts;
    sayProgress?: (progress: Progress) => Promise<void>;
  }
}

const FRAME_MS = 1000 / 30;
const REST_MS = 300;

const parts = {
  Dexie,
  IdbPlanStore,
  plans: { dayOn, inventedPlan, nextVersion },
  IdbSessionStore,
  SessionDatabase,
  SessionRecorder,
  openSessionStore,
  recordStream,
  makeSeekable,
  headerFor,
  film: (seconds: number): PoseFrame[] => network().film(curl({ periodSeconds: 2.5 }), seconds, 30),
};

function network(): SyntheticNetwork {
  return new SyntheticNetwork({ noise: NETWORK_NOISE, seed: 5 });
}

function headerFor(sessionId: string): SessionHeader {
  return {
    format: RECORD_FORMAT,
    schemaVersion: RECORD_VERSION,
    id: sessionId,
    createdAt: new Date().toISOString(),
    software: { name: 'Forearmed', version: '0.1.0' },
    estimator: { model: 'blazepose-full', runtime: 'stick body, seeded', modelSha256s: ['a'.repeat(64)] },
    source: { kind: 'camera', label: 'Desk camera', durationSeconds: null, widthPx: 640, heightPx: 480 },
    settings: { exercise: 'free-curl', side: 'left', variant: null, statureCm: 175 },
    thresholds: DEFAULT_THRESHOLDS,
    plan: null,
  };
}

const nowSeconds = (): number => performance.now() / 1000;
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const beginning = (): { startedAt: string; painBefore: number } => ({
  startedAt: new Date().toISOString(),
  painBefore: 2,
});

async function recordForEver(sessionId: string, setSeconds: number): Promise<void> {
  const { store } = await openSessionStore();
  const recorder = new SessionRecorder({ store, header: headerFor(sessionId), nowSeconds });
  const body = network();
  const posture = curl({ periodSeconds: 2.5 });
  for (let setIndex = 0; ; setIndex++) {
    recorder.beginSet(beginning());
    const startSeconds = nowSeconds();
    let frames = 0;
    let lastFrameSeconds = startSeconds;
    const say = (isOpen: boolean): void => {
      const saidAtMs = performance.timeOrigin + performance.now();
      const progress = {
        setIndex,
        isOpen,
        frames,
        firstFrameSeconds: startSeconds,
        lastFrameSeconds,
        saidAtMs,
      };
      void window.sayProgress?.(progress);
    };
    while (nowSeconds() < startSeconds + setSeconds) {
      const timeSeconds = nowSeconds();
      recorder.addFrame(body.frame(posture(timeSeconds - startSeconds), timeSeconds));
      frames += 1;
      lastFrameSeconds = timeSeconds;
      say(true);
      await pause(FRAME_MS - (nowSeconds() - timeSeconds) * 1000);
    }
    await recorder.finishSet();
    say(false);
    await pause(REST_MS);
  }
}

async function recordFast(sessionId: string, seconds: number): Promise<void> {
  const { store } = await openSessionStore();
  const recorder = new SessionRecorder({ store, header: headerFor(sessionId), nowSeconds });
  recorder.beginSet(beginning());
  for (const frame of parts.film(seconds)) recorder.addFrame(frame);
  await recorder.finish();
}

async function inspect(sessionId: string): Promise<KeptFacts> {
  const { store } = await openSessionStore();
  const [listed, loaded] = [await store.listSessions(), await store.loadSession(sessionId)];
  const listing = listed.ok ? listed.value.find(({ id }) => id === sessionId) : undefined;
  const state = listing?.state ?? 'not listed';
  if (!loaded.ok) return { state, problem: loaded.problem, sets: [] };
  return { state, problem: null, sets: loaded.value.sets.map((_, index) => setFacts(loaded.value, index)) };
}

function setFacts(record: SessionRecord, index: number): KeptSetFacts {
  const set = record.sets[index];
  if (set === undefined) throw new Error('no such set');
  return {
    frames: set.frames.frameCount,
    lastFrameSeconds: decodeFrames(set.frames).at(-1)?.timeSeconds ?? NaN,
    cutOff: set.cutOff,
    repetitions: set.judgement.repetitions.length,
    differences: differences(findingsOf(set), recomputeSet(record, index).findings),
  };
}

async function finish(sessionId: string): Promise<StorageProblem | null> {
  const { store } = await openSessionStore();
  const finished = await store.finishSession(sessionId);
  return finished.ok ? null : finished.problem;
}

window.storageParts = parts;
window.storagePage = {
  recordForEver: (sessionId, setSeconds) => void recordForEver(sessionId, setSeconds),
  recordFast,
  inspect,
  finish,
};
