import { openCamera } from '../../../src/adapters/frames/camera-source.ts';
import type { LoadRequest } from '../../../src/adapters/pose-worker/messages.ts';
import { openPoseWorkerService } from '../../../src/adapters/pose-worker/pose-worker-service.ts';
import { EstimatorError } from '../../../src/core/pose/estimator-problem.ts';
import type { SourceEnd } from '../../../src/core/pose/frame-source.ts';
import type { PoseModel, PoseService, SeenPicture } from '../../../src/core/pose/pose-service.ts';

/** How a live run is played. */
export interface LivePlay {
  readonly seconds: number;
  readonly stepSeconds?: number;
  /** As in browsers that cannot read a track directly. */
  readonly withoutTrackProcessor?: boolean;
  /** After so many seconds the page's own thread is kept busy for as long. */
  readonly blockPageAt?: { readonly seconds: number; readonly forMs: number };
  readonly changeTo?: PoseModel;
}

/** What came of it. */
export interface LivePlayed {
  readonly end: SourceEnd;
  readonly seen: readonly SeenPicture[];
  readonly arrivedMs: readonly number[];
}

interface PoseWorkerPage {
  open(model: PoseModel, backend: LoadRequest['backend']): Promise<string>;
  about(): { readonly identity: PoseService['identity']; readonly backend: PoseService['backend'] };
  live(play: LivePlay): Promise<LivePlayed>;
}

declare global {
  interface Window {
    poseWorkerPage: PoseWorkerPage;
  }
}

let service: PoseService | null = null;

function running(): PoseService {
  if (service === null) throw new Error('open() first');
  return service;
}

const spawn = (): Worker =>
  new Worker(new URL('../../../src/pose-worker.ts', import.meta.url), { type: 'module' });

async function open(model: PoseModel, backend: LoadRequest['backend']): Promise<string> {
  service?.dispose();
  service = null;
  try {
    const parts = { spawn, modelBase: '/models/', backend, workers: 1 };
    service = await openPoseWorkerService(parts, model, () => undefined);
    return 'ok';
  } catch (error) {
    return error instanceof EstimatorError ? `${error.problem} ${error.message}` : String(error);
  }
}

async function live(play: LivePlay): Promise<LivePlayed> {
  if (play.withoutTrackProcessor === true) Reflect.set(window, 'MediaStreamTrackProcessor', undefined);
  const opened = await openCamera(null);
  if (!opened.ok) throw new Error(opened.problem);
  const { source } = opened;
  const seen: SeenPicture[] = [];
  const arrivedMs: number[] = [];
  setTimeout(() => source.stop(), play.seconds * 1000);
  if (play.blockPageAt !== undefined) {
    const { seconds, forMs } = play.blockPageAt;
    setTimeout(() => {
      const until = performance.now() + forMs;
      while (performance.now() < until);
    }, seconds * 1000);
  }
  if (play.changeTo !== undefined) void running().change(play.changeTo, () => undefined);
  const options = { side: 'right', clipRateHz: null, liveStepSeconds: play.stepSeconds ?? 0 } as const;
  const end = await running().run(source, options, (picture) => {
    seen.push(picture);
    arrivedMs.push(performance.now());
  });
  return { end, seen, arrivedMs };
}

window.poseWorkerPage = {
  open,
  about: () => ({ identity: running().identity, backend: running().backend }),
  live,
};
