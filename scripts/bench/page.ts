import type { PoseTracker } from '../../src/adapters/estimator/blaze-pose-tracker.ts';
import { openLibraryTracker } from '../../src/adapters/estimator/library-tracker.ts';
import type { BackendWish } from '../../src/adapters/estimator/open-pose-estimator.ts';
import type { Pose } from '../../src/core/pose/pose-frame.ts';
import type { PoseModel } from '../../src/core/pose/pose-service.ts';
import { clipFrames } from './clip-frames.ts';
import type { FromNetworkWorker, SpeedSample, ToNetworkWorker } from './network-worker.ts';

/** One picture seen by both. */
export interface SeenByBoth {
  readonly timeSeconds: number;
  readonly ours: Pose | null;
  readonly theirs: Pose | null;
}

/** Where the library's runtime computes. */
export type LibraryMode = 'as-it-comes' | 'cpu';

export interface BenchPage {
  openOurs(
    model: PoseModel,
    backend: BackendWish,
  ): Promise<{ readonly backend: string; readonly runtime: string }>;
  openLibrary(model: PoseModel, mode: LibraryMode): Promise<void>;
  closeLibrary(): void;
  race(clipUrl: string, pictures: number, rounds: number): Promise<readonly SpeedSample[]>;
  /** The same pictures in so many workers at once, each with a network of its own. */
  raceTogether(
    workers: number,
    model: PoseModel,
    clipUrl: string,
    pictures: number,
  ): Promise<readonly SpeedSample[]>;
  libraryMs(clipUrl: string, pictures: number): Promise<readonly number[]>;
  compare(clipUrl: string, rateHz: number): Promise<readonly SeenByBoth[]>;
  /** JPEG data addresses of the pictures at the given times. */
  pictures(clipUrl: string, rateHz: number, timesSeconds: readonly number[]): Promise<readonly string[]>;
}

declare global {
  interface Window {
    benchPage: BenchPage;
  }
}

const MODEL_BASE = '/models/';
/** Pictures of the clips that are raced are this far apart, as the app measures clips. */
const RACE_HZ = 15;

let library: PoseTracker | null = null;
let worker: Worker | null = null;

function newWorker(): Worker {
  return new Worker(new URL('./network-worker.ts', import.meta.url), { type: 'module' });
}

/** Sends a message to the page's own worker and waits for its answer; one at a time. */
function ask(message: ToNetworkWorker, transfer: Transferable[] = []): Promise<FromNetworkWorker> {
  worker ??= newWorker();
  return askOf(worker, message, transfer);
}

function askOf(
  asked: Worker,
  message: ToNetworkWorker,
  transfer: Transferable[],
): Promise<FromNetworkWorker> {
  return new Promise((resolve, reject) => {
    asked.onmessage = ({ data }: MessageEvent<FromNetworkWorker>) =>
      data.kind === 'failed' ? reject(new Error(data.detail)) : resolve(data);
    asked.onerror = (event) => reject(new Error(event.message));
    asked.postMessage(message, transfer);
  });
}

function tracker(): PoseTracker {
  if (library === null) throw new Error('openLibrary first');
  return library;
}

async function openOurs(model: PoseModel, backend: BackendWish) {
  worker?.terminate();
  worker = null;
  const opened = await ask({ kind: 'open', modelBase: MODEL_BASE, model, backend });
  if (opened.kind !== 'opened') throw new Error(`unexpected answer ${opened.kind}`);
  return { backend: opened.backend, runtime: opened.runtime };
}

async function firstFrames(clipUrl: string, count: number): Promise<VideoFrame[]> {
  const frames: VideoFrame[] = [];
  for await (const { frame } of clipFrames(clipUrl, RACE_HZ)) {
    // A copy in memory of our own: a decoder lends out only so many pictures at a time.
    frames.push(await ownCopy(frame));
    if (frames.length === count) break;
  }
  return frames;
}

async function ownCopy(frame: VideoFrame): Promise<VideoFrame> {
  const { format, codedWidth, codedHeight, timestamp, colorSpace } = frame;
  if (format === null) throw new Error('The decoder gives pictures that cannot be read.');
  const data = new Uint8Array(
    frame.allocationSize({ rect: { x: 0, y: 0, width: codedWidth, height: codedHeight } }),
  );
  const layout = await frame.copyTo(data, { rect: { x: 0, y: 0, width: codedWidth, height: codedHeight } });
  frame.close();
  return new VideoFrame(data, {
    format,
    codedWidth,
    codedHeight,
    timestamp,
    layout,
    colorSpace: colorSpace.toJSON(),
  });
}

async function race(clipUrl: string, pictures: number, rounds: number): Promise<readonly SpeedSample[]> {
  return racedBy(ask, clipUrl, pictures, rounds);
}

async function raceTogether(
  workers: number,
  model: PoseModel,
  clipUrl: string,
  pictures: number,
): Promise<readonly SpeedSample[]> {
  const team = Array.from({ length: workers }, newWorker);
  await Promise.all(
    team.map((one) => askOf(one, { kind: 'open', modelBase: MODEL_BASE, model, backend: 'cpu' }, [])),
  );
  const raced = await Promise.all(
    team.map((one) => racedBy((message, transfer) => askOf(one, message, transfer), clipUrl, pictures, 1)),
  );
  for (const one of team) one.terminate();
  return raced.flat();
}

async function racedBy(
  asking: (message: ToNetworkWorker, transfer: Transferable[]) => Promise<FromNetworkWorker>,
  clipUrl: string,
  pictures: number,
  rounds: number,
): Promise<readonly SpeedSample[]> {
  const frames = await firstFrames(clipUrl, pictures);
  const raced = await asking({ kind: 'race', frames, stepSeconds: 1 / RACE_HZ, rounds }, frames);
  if (raced.kind !== 'raced') throw new Error(`unexpected answer ${raced.kind}`);
  return raced.samples;
}

async function libraryMs(clipUrl: string, pictures: number): Promise<readonly number[]> {
  const times: number[] = [];
  for (const [index, frame] of (await firstFrames(clipUrl, pictures)).entries()) {
    const canvas = drawn(frame);
    frame.close();
    const from = performance.now();
    await tracker().track(canvas, index / RACE_HZ);
    times.push(performance.now() - from);
  }
  return times;
}

function drawn(frame: VideoFrame): OffscreenCanvas {
  const canvas = new OffscreenCanvas(frame.displayWidth, frame.displayHeight);
  canvas.getContext('2d')?.drawImage(frame, 0, 0);
  return canvas;
}

async function compare(clipUrl: string, rateHz: number): Promise<readonly SeenByBoth[]> {
  await tracker().forget();
  await ask({ kind: 'reset' });
  const seen: SeenByBoth[] = [];
  for await (const { frame, timeSeconds } of clipFrames(clipUrl, rateHz)) {
    const canvas = drawn(frame);
    const answer = ask({ kind: 'estimate', frame, timeSeconds }, [frame]);
    const theirs = await tracker().track(canvas, timeSeconds);
    const ours = await answer;
    if (ours.kind !== 'seen') throw new Error(`unexpected answer ${ours.kind}`);
    seen.push({ timeSeconds, ours: ours.sighting.pose, theirs });
  }
  return seen;
}

async function pictures(
  clipUrl: string,
  rateHz: number,
  timesSeconds: readonly number[],
): Promise<readonly string[]> {
  const found = new Map<number, string>();
  for await (const { frame, timeSeconds } of clipFrames(clipUrl, rateHz)) {
    if (timesSeconds.includes(timeSeconds)) {
      const blob = await drawn(frame).convertToBlob({ type: 'image/jpeg' });
      found.set(timeSeconds, base64(new Uint8Array(await blob.arrayBuffer())));
    }
    frame.close();
  }
  return timesSeconds.map((time) => found.get(time) ?? '');
}

/** Byte by byte: a whole picture is too long for one call. */
function base64(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text);
}

window.benchPage = {
  openOurs,
  async openLibrary(model, mode) {
    library?.dispose();
    library = await openLibraryTracker(MODEL_BASE, model, mode === 'cpu');
  },
  closeLibrary() {
    library?.dispose();
    library = null;
  },
  race,
  raceTogether,
  libraryMs,
  compare,
  pictures,
};
