import { openPoseEstimator } from '../../src/adapters/estimator/open-pose-estimator.ts';
import { pixelReader } from '../../src/adapters/frames/pixel-reader.ts';
import { mirroredBack } from '../../src/core/pose/exchange-labels.ts';
import { inMirror, type PixelPicture } from '../../src/core/pose/network/pixel-picture.ts';
import type { TimedEstimator } from '../../src/core/pose/pose-estimator.ts';
import type { Pose } from '../../src/core/pose/pose-frame.ts';
import type { TraceModel } from '../../tests/yardstick/trace.ts';

/** What the networks found in one picture; null where nobody was found. Pixels of the picture. */
export interface SeenStill {
  readonly poses: Readonly<Record<TraceModel, Pose | null>>;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly networkMs: number;
}

/** What the page asks of the worker; each is answered by a message. */
export type ToStillWorker =
  { readonly kind: 'open'; readonly modelBase: string } | { readonly kind: 'see'; readonly jpeg: Blob };

export type FromStillWorker =
  | { readonly kind: 'opened' }
  | { readonly kind: 'seen'; readonly still: SeenStill }
  | { readonly kind: 'failed'; readonly detail: string };

/**
 * Looks at the same picture one after another, as at a stream that stands still: the first in the person detector's
 * region, the next where the landmarks themselves say. Measured on a developing case: the third differs from the second
 * by 3.3 px in the median, the fourth from the third by 0.1 px, the tenth from the third by 0.4 px.
 */
const LOOK_SECONDS = [0, 1 / 30, 2 / 30] as const;

const reader = pixelReader();
let networks: { readonly full: TimedEstimator; readonly heavy: TimedEstimator } | null = null;

self.addEventListener('message', ({ data }: MessageEvent<ToStillWorker>) => {
  answer(data).then(
    (message) => self.postMessage(message),
    (error: unknown) => self.postMessage({ kind: 'failed', detail: String(error) } satisfies FromStillWorker),
  );
});

async function answer(message: ToStillWorker): Promise<FromStillWorker> {
  if (message.kind === 'see') return { kind: 'seen', still: await see(message.jpeg) };
  const open = async (model: 'full' | 'heavy') =>
    (await openPoseEstimator(message.modelBase, model, 'cpu', () => undefined)).estimator;
  networks = { full: await open('full'), heavy: await open('heavy') };
  return { kind: 'opened' };
}

async function see(jpeg: Blob): Promise<SeenStill> {
  if (networks === null) throw new Error('open first');
  const { full, heavy } = networks;
  const from = performance.now();
  const bitmap = await createImageBitmap(jpeg);
  const picture = await reader.read(bitmap);
  bitmap.close();
  const mirrored = inMirror(picture);
  const { widthPx, heightPx } = picture;
  const poses = {
    full: await look(full, picture),
    fullMirrored: mirroredBack(await look(full, mirrored), widthPx),
    heavy: await look(heavy, picture),
  };
  return { poses, widthPx, heightPx, networkMs: performance.now() - from };
}

async function look(estimator: TimedEstimator, picture: PixelPicture): Promise<Pose | null> {
  await estimator.reset();
  let pose: Pose | null = null;
  for (const timeSeconds of LOOK_SECONDS) pose = (await estimator.estimate(picture, timeSeconds)).pose;
  return pose;
}
