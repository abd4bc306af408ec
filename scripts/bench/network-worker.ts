import { createNetwork } from '../../src/adapters/estimator/network.ts';
import { loadModelFiles } from '../../src/adapters/estimator/model-files.ts';
import {
  type BackendWish,
  openPoseEstimator,
  type OpenedEstimator,
} from '../../src/adapters/estimator/open-pose-estimator.ts';
import { pixelReader } from '../../src/adapters/frames/pixel-reader.ts';
import { LiveMeasuring } from '../../src/adapters/pose-worker/live-measuring.ts';
import { LANDMARK_INPUT_PX } from '../../src/core/pose/network/landmark-outputs.ts';
import type { Sighting } from '../../src/core/pose/pose-estimator.ts';
import type { PoseModel } from '../../src/core/pose/pose-service.ts';

/** What the page asks of the worker; each is answered by a message. */
export type ToNetworkWorker =
  | {
      readonly kind: 'open';
      readonly modelBase: string;
      readonly model: PoseModel;
      readonly backend: BackendWish;
    }
  /** Answered by a Sighting. */
  | { readonly kind: 'estimate'; readonly frame: VideoFrame; readonly timeSeconds: number }
  | { readonly kind: 'reset' }
  /** Answered by SpeedSample[]. */
  | {
      readonly kind: 'race';
      readonly frames: readonly VideoFrame[];
      readonly stepSeconds: number;
      readonly rounds: number;
    };

/** One picture through the whole pipeline, and the bare network beside it, milliseconds. */
export interface SpeedSample {
  readonly pipelineMs: number;
  readonly kernelMs: number;
}

export type FromNetworkWorker =
  | { readonly kind: 'opened'; readonly backend: string; readonly runtime: string }
  | { readonly kind: 'seen'; readonly sighting: Sighting }
  | { readonly kind: 'raced'; readonly samples: readonly SpeedSample[] }
  | { readonly kind: 'failed'; readonly detail: string };

const reader = pixelReader();
let opened: OpenedEstimator | null = null;
let landmarkFile: ArrayBuffer | null = null;

self.addEventListener('message', ({ data }: MessageEvent<ToNetworkWorker>) => {
  answer(data).then(
    (message) => self.postMessage(message),
    (error: unknown) =>
      self.postMessage({ kind: 'failed', detail: String(error) } satisfies FromNetworkWorker),
  );
});

async function answer(message: ToNetworkWorker): Promise<FromNetworkWorker> {
  if (message.kind === 'open') return open(message);
  if (opened === null) throw new Error('open first');
  const { estimator } = opened;
  switch (message.kind) {
    case 'estimate': {
      const pixels = await reader.read(message.frame);
      message.frame.close();
      return { kind: 'seen', sighting: await estimator.estimate(pixels, message.timeSeconds) };
    }
    case 'reset':
      await estimator.reset();
      return { kind: 'seen', sighting: { pose: null, people: null } };
    case 'race':
      return {
        kind: 'raced',
        samples: await race(opened, message.frames, message.stepSeconds, message.rounds),
      };
  }
}

async function open({
  modelBase,
  model,
  backend,
}: Extract<ToNetworkWorker, { kind: 'open' }>): Promise<FromNetworkWorker> {
  opened?.estimator.dispose();
  opened = await openPoseEstimator(modelBase, model, backend, () => undefined);
  const name = `pose_landmark_${model}.tflite`;
  landmarkFile = await (await loadModelFiles(modelBase, [name])).bytes(name);
  return { kind: 'opened', backend: opened.backend, runtime: opened.estimator.identity.runtime };
}

/** Both by turns on the same pictures, so that whatever else the machine does falls on both. */
async function race(
  { estimator, backend }: OpenedEstimator,
  frames: readonly VideoFrame[],
  stepSeconds: number,
  rounds: number,
): Promise<SpeedSample[]> {
  if (landmarkFile === null) throw new Error('open first');
  const accelerator = backend === 'gpu' ? 'webgpu' : 'wasm';
  const kernel = await createNetwork(landmarkFile, LANDMARK_INPUT_PX, [], accelerator);
  const measuring = new LiveMeasuring(reader, estimator, {
    side: 'right',
    stepSeconds: 0,
    rateHz: null,
    tile: null,
    skipsRepeats: false,
  });
  const samples: SpeedSample[] = [];
  for (let round = 0; round < rounds; round += 1)
    for (const [index, frame] of frames.entries()) {
      const measured = await measuring.measure(frame, (round * frames.length + index) * stepSeconds);
      const bare = await kernel.run(
        () => undefined,
        () => undefined,
      );
      if (measured !== null) samples.push({ pipelineMs: measured.workMs, kernelMs: bare.networkMs });
    }
  kernel.dispose();
  for (const frame of frames) frame.close();
  return samples;
}
