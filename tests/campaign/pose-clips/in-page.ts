import { openClip } from '../../../src/adapters/frames/clip-source.ts';
import { openPoseWorkerService } from '../../../src/adapters/pose-worker/pose-worker-service.ts';
import { EstimatorError } from '../../../src/core/pose/estimator-problem.ts';
import type { SourceEnd, SourceProblem } from '../../../src/core/pose/frame-source.ts';
import type { Side } from '../../../src/core/pose/landmark.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import type { EstimatorIdentity } from '../../../src/core/pose/pose-estimator.ts';
import type { EstimatorName, PoseService } from '../../../src/core/pose/pose-service.ts';
import { type ClipPlan, cutClip, makeClip } from '../../browser/frames/make-clip.ts';
import type { FrameCount } from './counting-worker.ts';

/** How a clip is measured. */
export interface ClipPlay {
  /** An address, or the bytes as base64. */
  readonly from: { readonly url: string } | { readonly base64: string };
  readonly workers: number;
  readonly rateHz: number | null;
  readonly model?: EstimatorName;
  /** The person's treated side; right without it. */
  readonly side?: Side;
  /** Asks for the end after so many frames. */
  readonly stopAfter?: number;
  /** So many workers are ended from outside, each after its first segment; nobody is told when it is silent. */
  readonly killed?: { readonly workers: number; readonly isSilent: boolean };
  /** The first worker says that its graphics processor was lost when it says this. */
  readonly gpuLostAt?: 'clip-opened' | 'segment-done';
}

/** What came of it. */
export interface ClipPlayed {
  readonly problem: SourceProblem | null;
  readonly end: SourceEnd | null;
  /** Why it was given up. */
  readonly error: string | null;
  /** What gave the landmarks. */
  readonly identity: EstimatorIdentity;
  readonly frames: readonly PoseFrame[];
  readonly shares: readonly number[];
  /** Sizes of the pictures to look at. */
  readonly pictures: readonly (readonly [number, number])[];
  /** Of the first one: red, green and blue at an eighth and seven eighths, from the top left corner clockwise. */
  readonly corners: readonly (readonly number[])[];
  /** Whether every such picture was still open when it was handed over, and closed afterwards. */
  readonly arePicturesKept: boolean;
  /** Workers that finished a segment. */
  readonly workersUsed: number;
  readonly wallMs: number;
  readonly workMs: number;
  readonly networkMs: number;
}

interface PoseClipsPage {
  measure(play: ClipPlay): Promise<ClipPlayed>;
  /** Measures two clips at the same time with the same workers. */
  measureTwo(first: ClipPlay, second: ClipPlay): Promise<readonly [ClipPlayed, ClipPlayed]>;
  /** Video frames made in all workers that are alive, and of these those still open. */
  countFrames(): Promise<{ readonly made: number; readonly open: number }>;
  makeClip(plan: ClipPlan): Promise<string>;
  cutClip(url: string, seconds: number): Promise<string>;
}

declare global {
  interface Window {
    poseClipsPage: PoseClipsPage;
  }
}

/** Workers that are alive, with how many segments each has done since this was cleared. */
const segmentsDone = new Map<Worker, number>();
let leftToKill = 0;
let isSilent = false;
let gpuLostAt: ClipPlay['gpuLostAt'];

function spawn(): Worker {
  const worker = new Worker(new URL('./counting-worker.ts', import.meta.url), { type: 'module' });
  segmentsDone.set(worker, 0);
  const terminate = worker.terminate.bind(worker);
  worker.terminate = () => {
    segmentsDone.delete(worker);
    terminate();
  };
  worker.addEventListener('message', ({ data }: MessageEvent<{ readonly kind: string }>) => {
    if (data.kind === gpuLostAt) {
      gpuLostAt = undefined;
      const lost = { kind: 'failed', problem: 'gpu-lost', detail: 'as if' };
      setTimeout(() => worker.dispatchEvent(new MessageEvent('message', { data: lost })));
    }
    if (data.kind !== 'segment-done') return;
    segmentsDone.set(worker, (segmentsDone.get(worker) ?? 0) + 1);
    if (leftToKill === 0) return;
    leftToKill -= 1;
    worker.terminate();
    if (!isSilent) worker.dispatchEvent(new ErrorEvent('error', { message: 'as if out of memory' }));
  });
  return worker;
}

/** One service for each number of workers and size of network: loading takes longer than a short clip. */
const services = new Map<string, Promise<PoseService>>();

function serviceFor({ workers, model = 'lite' }: ClipPlay): Promise<PoseService> {
  const key = `${String(workers)} ${model}`;
  const there = services.get(key);
  if (there !== undefined) return there;
  const parts = { spawn, modelBase: '/models/', backend: 'cpu', workers } as const;
  const opening = openPoseWorkerService(parts, model, () => undefined);
  services.set(key, opening);
  return opening;
}

async function measure(play: ClipPlay): Promise<ClipPlayed> {
  const service = await serviceFor(play);
  return measureWith(service, play);
}

async function measureWith(service: PoseService, play: ClipPlay): Promise<ClipPlayed> {
  const from = 'url' in play.from ? play.from.url : await blobOf(play.from.base64);
  const opened = await openClip(from, { kind: 'clip', label: 'clip' });
  const frames: PoseFrame[] = [];
  const shares: number[] = [];
  const pictures: (readonly [number, number])[] = [];
  const bitmaps: ImageBitmap[] = [];
  let corners: readonly (readonly number[])[] = [];
  let [workMs, networkMs, error] = [0, 0, null as string | null];
  let end: SourceEnd | null = null;
  const start = performance.now();
  for (const worker of segmentsDone.keys()) segmentsDone.set(worker, 0);
  leftToKill = play.killed?.workers ?? 0;
  isSilent = play.killed?.isSilent ?? false;
  gpuLostAt = play.gpuLostAt;
  if (opened.ok)
    try {
      const options = {
        side: play.side ?? 'right',
        clipRateHz: play.rateHz,
        liveStepSeconds: 0,
        onProgress: (share: number) => void shares.push(share),
      } as const;
      end = await service.run(opened.source, options, ({ frame, picture, timing }) => {
        frames.push(frame);
        workMs += timing.workMs;
        networkMs += timing.networkMs ?? 0;
        if (picture instanceof ImageBitmap) {
          if (bitmaps.length === 0) corners = cornersOf(picture);
          bitmaps.push(picture);
          pictures.push([picture.width, picture.height]);
        }
        if (frames.length === play.stopAfter) opened.source.stop();
      });
    } catch (thrown) {
      error = thrown instanceof EstimatorError ? thrown.message : `not an EstimatorError: ${String(thrown)}`;
    }
  return {
    problem: opened.ok ? null : opened.problem,
    end,
    error,
    identity: service.identity,
    frames,
    shares,
    pictures,
    corners,
    arePicturesKept: pictures.every(([width]) => width > 0) && bitmaps.every(({ width }) => width === 0),
    workersUsed: [...segmentsDone.values()].filter((count) => count > 0).length,
    wallMs: performance.now() - start,
    workMs,
    networkMs,
  };
}

function cornersOf(picture: ImageBitmap): readonly (readonly number[])[] {
  const { width, height } = picture;
  const context = new OffscreenCanvas(width, height).getContext('2d');
  if (context === null) throw new Error('no canvas');
  context.drawImage(picture, 0, 0);
  const [near, far] = [1 / 8, 7 / 8];
  return [
    [near, near],
    [far, near],
    [far, far],
    [near, far],
  ].map(([x = 0, y = 0]) => [...context.getImageData(x * width, y * height, 1, 1).data.slice(0, 3)]);
}

async function blobOf(base64: string): Promise<Blob> {
  return (await fetch(`data:video/mp4;base64,${base64}`)).blob();
}

async function countFrames(): Promise<{ readonly made: number; readonly open: number }> {
  const counts = await Promise.all(
    [...segmentsDone.keys()].map(
      (worker) =>
        new Promise<FrameCount>((resolve) => {
          worker.addEventListener('message', ({ data }: MessageEvent<FrameCount>) => {
            if (data.kind === 'frame-count') resolve(data);
          });
          worker.postMessage({ kind: 'count-frames' });
        }),
    ),
  );
  const sum = (pick: (count: FrameCount) => number): number =>
    counts.reduce((total, count) => total + pick(count), 0);
  return { made: sum(({ made }) => made), open: sum(({ open }) => open) };
}

function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text);
}

window.poseClipsPage = {
  measure,
  measureTwo: async (first, second) => {
    const service = await serviceFor(first);
    return Promise.all([measureWith(service, first), measureWith(service, second)]);
  },
  countFrames,
  makeClip: async (plan) => toBase64(await makeClip(plan)),
  cutClip: async (url, seconds) => toBase64(await cutClip(url, seconds)),
};
