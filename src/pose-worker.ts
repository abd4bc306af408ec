import { oneAtATime } from './adapters/estimator/one-at-a-time.ts';
import { openPoseEstimator, type OpenedEstimator } from './adapters/estimator/open-pose-estimator.ts';
import type { ClipSegments } from './adapters/frames/clip-segments.ts';
import { pixelReader } from './adapters/frames/pixel-reader.ts';
import { LiveMeasuring } from './adapters/pose-worker/live-measuring.ts';
import type {
  ClipRequest,
  FromPoseWorker,
  LiveOptions,
  LoadRequest,
  SegmentOrder,
  ToPoseWorker,
} from './adapters/pose-worker/messages.ts';
import { breathe } from './adapters/pose-worker/breathe.ts';
import { CaptureClock } from './core/pose/capture-clock.ts';
import { EstimatorError } from './core/pose/estimator-problem.ts';
import type { SourceProblem } from './core/pose/frame-source.ts';

/**
 * The worker that finds landmarks: joins network and picture reading. One live run at a time; what comes for an earlier
 * one is ignored. Of clips it measures the segments that it is asked for, one at a time.
 */
const reader = pixelReader();
let opened: OpenedEstimator | null = null;
let live: { readonly run: number; readonly measuring: LiveMeasuring } | null = null;
/** An estimator that takes over between two pictures. */
let next: OpenedEstimator | null = null;
/** Clips that are open, by the page's number. */
const clips = new Map<number, Promise<ClipSegments | SourceProblem>>();

const post = (message: FromPoseWorker, transfer: Transferable[] = []): void =>
  self.postMessage(message, { transfer });

self.addEventListener('message', ({ data }: MessageEvent<ToPoseWorker>) => {
  void answer(data).catch(fail);
});

async function answer(message: ToPoseWorker): Promise<void> {
  switch (message.kind) {
    case 'load':
      return load(message);
    case 'live':
      return measureStream(begin(message.run, message.options), message.frames);
    case 'hand-over':
      begin(message.run, message.options);
      return;
    case 'picture':
      return measureHandedOver(message);
    case 'pace':
      live?.measuring.pace(message.stepSeconds);
      return;
    case 'tile':
      live?.measuring.frame(message.tile);
      return;
    case 'stop':
      if (live?.run === message.run) live = null;
      return;
    case 'clip':
      return openClip(message);
    case 'segment':
      return measureSegment(message);
    case 'clip-front':
      return withClip(message.clip, (clip) => (clip.shown = message.segment));
    case 'clip-end':
      await withClip(message.clip, (clip) => clip.close());
      clips.delete(message.clip);
      return;
    case 'ping':
      post({ kind: 'pong' });
  }
}

async function load({ modelBase, model, backend }: LoadRequest): Promise<void> {
  const found = await openPoseEstimator(modelBase, model, backend, (progress) => {
    post({ kind: 'progress', ...progress });
  });
  const loaded = { ...found, estimator: oneAtATime(found.estimator) };
  void loaded.lost.then(() => {
    if (loaded === opened || loaded === next)
      post({ kind: 'failed', problem: 'gpu-lost', detail: 'The graphics processor was lost.' });
  });
  // Of several that were loaded in one run the last one counts.
  next?.estimator.dispose();
  next = loaded;
  if (live === null) takeOver();
  post({ kind: 'loaded', identity: loaded.estimator.identity, backend: loaded.backend });
}

/** Computes with the estimator that was loaded last, if it waits. Between two pictures only. */
function takeOver(): void {
  if (next === null) return;
  opened?.estimator.dispose();
  opened = next;
  next = null;
  live?.measuring.use(opened.estimator);
}

function begin(run: number, options: LiveOptions): LiveMeasuring {
  takeOver();
  if (opened === null) throw new EstimatorError('failed', 'A run was begun before the network was loaded.');
  const measuring = new LiveMeasuring(reader, opened.estimator, options);
  live = { run, measuring };
  return measuring;
}

async function measureStream(measuring: LiveMeasuring, frames: ReadableStream<VideoFrame>): Promise<void> {
  const run = live?.run ?? 0;
  const isCurrent = (): boolean => live?.measuring === measuring;
  const stream = frames.getReader();
  const clock = new CaptureClock();
  try {
    while (isCurrent()) {
      const { done, value } = await stream.read();
      if (done) break;
      await measureAndPost(measuring, run, value, value.timestamp / 1e6, capturedAtMs(value, clock));
      // Pictures may be there without a pause: let the messages in between be heard.
      await breathe();
    }
  } finally {
    void drain(stream);
  }
  if (isCurrent()) live = null;
  post({ kind: 'end', run });
}

/** A run that is over ends its track soon; a stream that goes on longer is cancelled, milliseconds. */
const LONGEST_DRAIN_MS = 1000;

/** Closes what is still on its way: a stream that is cancelled forgets its pictures without closing them. */
async function drain(stream: ReadableStreamDefaultReader<VideoFrame>): Promise<void> {
  // A track that has ended cannot be cancelled any more; that is its end too.
  const giveUp = setTimeout(() => void stream.cancel().catch(() => undefined), LONGEST_DRAIN_MS);
  try {
    for (let next = await stream.read(); !next.done; next = await stream.read()) next.value.close();
  } catch {
    // The stream broke: nothing comes any more.
  }
  clearTimeout(giveUp);
}

async function measureHandedOver(message: Extract<ToPoseWorker, { kind: 'picture' }>): Promise<void> {
  const { run, picture, timeSeconds } = message;
  if (live?.run !== run) return picture.close();
  if (!(await measureAndPost(live.measuring, run, picture, timeSeconds, message.capturedAtMs)))
    post({ kind: 'passed-over', run });
}

/** Measures a picture and closes it, whatever comes. False when it came too soon after the one before. */
async function measureAndPost(
  measuring: LiveMeasuring,
  run: number,
  picture: VideoFrame | ImageBitmap,
  timeSeconds: number,
  capturedMs: number | null,
): Promise<boolean> {
  takeOver();
  try {
    const measured = await measuring.measure(picture, timeSeconds);
    if (measured !== null) post({ kind: 'frame', run, capturedAtMs: capturedMs, ...measured });
    return measured !== null;
  } finally {
    picture.close();
  }
}

/** When the picture was taken, as the browser tells it or as its arrival lets one infer: on the clock since 1970. */
function capturedAtMs(frame: VideoFrame, clock: CaptureClock): number {
  const arrivedMs = performance.now();
  const inferredMs = clock.captured(frame.timestamp / 1000, arrivedMs);
  return performance.timeOrigin + (frame.metadata?.().captureTime ?? inferredMs);
}

async function openClip({ clip, from, side, rateHz }: ClipRequest): Promise<void> {
  // The clip reader is large, and live pictures do without it.
  const opening = import('./adapters/frames/clip-segments.ts').then(({ ClipSegments }) =>
    ClipSegments.open(from, { side, rateHz }, pixelReader()),
  );
  clips.set(clip, opening);
  const found = await opening;
  if (typeof found === 'string')
    post({ kind: 'clip-opened', clip, firstSeconds: null, lastSeconds: null, problem: found });
  else post({ kind: 'clip-opened', clip, ...found.span, problem: null });
}

async function measureSegment({ clip, segment, isLast }: SegmentOrder): Promise<void> {
  takeOver();
  const estimator = opened?.estimator;
  if (estimator === undefined)
    throw new EstimatorError('failed', 'A segment was asked for before the network was loaded.');
  await withClip(clip, async (segments) => {
    const end = await segments.measure({ segment, isLast, estimator }, ({ picture, ...measured }) => {
      const transfer = picture === null ? [] : [picture];
      post({ kind: 'clip-frame', clip, segment, picture, ...measured }, transfer);
    });
    if (end !== null) post({ kind: 'segment-done', clip, segment, ...end });
  });
}

/** Does something with a clip that is open; nothing when it is not, or could not be opened. */
async function withClip(number: number, work: (clip: ClipSegments) => unknown): Promise<void> {
  const clip = await clips.get(number);
  if (clip !== undefined && typeof clip !== 'string') await work(clip);
}

function fail(error: unknown): void {
  const problem = error instanceof EstimatorError ? error.problem : 'failed';
  post({ kind: 'failed', problem, detail: String(error) });
}
