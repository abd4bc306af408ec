import { createBlazePoseEstimator } from '../../../src/adapters/estimator/blaze-pose-estimator.ts';
import { openClip } from '../../../src/adapters/frames/clip-source.ts';
import { EstimatorError } from '../../../src/core/pose/estimator-problem.ts';
import type { PoseEstimator, Sighting } from '../../../src/core/pose/pose-estimator.ts';

/** What an estimator is shown: a picture of a clip, drawn once or several times, or a blank one. */
export interface Scene {
  /** Where the picture is drawn, shares of the canvas' width; empty for a blank picture. */
  readonly places: readonly number[];
}

/** What tests call in the page. */
interface EstimatorPage {
  /** Makes an estimator, and says what went wrong: 'ok' or the problem. */
  start(): Promise<string>;
  identity(): PoseEstimator['identity'];
  /** Runs the first pictures of a clip; `afresh` forgets the person before. */
  run(clipUrl: string, pictures: number, afresh: boolean): Promise<readonly Sighting[]>;
  /** Shows scenes made of one picture of a clip, one second apart, and gives what was seen; 'forget' forgets the person. */
  show(clipUrl: string, scenes: readonly (Scene | 'forget')[]): Promise<readonly Sighting[]>;
  /** Milliseconds that forgetting takes while somebody is followed. */
  forgetMs(clipUrl: string): Promise<number>;
}

declare global {
  interface Window {
    estimatorPage: EstimatorPage;
  }
}

const MODEL_BASE = '/models/';
let estimator: PoseEstimator | null = null;

function running(): PoseEstimator {
  if (estimator === null) throw new Error('start() first');
  return estimator;
}

async function start(): Promise<string> {
  try {
    estimator = await createBlazePoseEstimator({ modelBase: MODEL_BASE });
    return 'ok';
  } catch (error) {
    return error instanceof EstimatorError ? error.problem : String(error);
  }
}

async function run(clipUrl: string, pictures: number, afresh: boolean): Promise<readonly Sighting[]> {
  if (afresh) await running().reset();
  const opened = await openClip(clipUrl, { kind: 'clip', label: clipUrl });
  if (!opened.ok) throw new Error(opened.problem);
  const seen: Sighting[] = [];
  await opened.source.run(async ({ picture, timeSeconds }) => {
    seen.push(await running().estimate(picture, timeSeconds));
    if (seen.length >= pictures) opened.source.stop();
  });
  return seen;
}

async function firstPicture(clipUrl: string): Promise<ImageBitmap> {
  const opened = await openClip(clipUrl, { kind: 'clip', label: clipUrl });
  if (!opened.ok) throw new Error(opened.problem);
  let bitmap: ImageBitmap | null = null;
  await opened.source.run(async ({ picture }) => {
    bitmap ??= await createImageBitmap(picture);
    opened.source.stop();
  });
  if (bitmap === null) throw new Error('no picture');
  return bitmap;
}

let clock = 0;

async function show(clipUrl: string, scenes: readonly (Scene | 'forget')[]): Promise<readonly Sighting[]> {
  const person = await firstPicture(clipUrl);
  // The clip's middle half holds the whole person, so there is room for somebody on either side.
  const half = person.width / 2;
  const canvas = new OffscreenCanvas(person.width, person.height);
  const context = canvas.getContext('2d');
  if (context === null) throw new Error('no canvas');
  const seen: Sighting[] = [];
  for (const scene of scenes) {
    if (scene === 'forget') {
      await running().reset();
      continue;
    }
    context.fillStyle = 'gray';
    context.fillRect(0, 0, canvas.width, canvas.height);
    for (const place of scene.places)
      context.drawImage(
        person,
        half / 2,
        0,
        half,
        canvas.height,
        place * canvas.width,
        0,
        half,
        canvas.height,
      );
    clock += 1;
    seen.push(await running().estimate(canvas, clock));
  }
  return seen;
}

async function forgetMs(clipUrl: string): Promise<number> {
  await show(clipUrl, [{ places: [0] }, { places: [0] }]);
  const from = performance.now();
  await running().reset();
  return performance.now() - from;
}

window.estimatorPage = { start, identity: () => running().identity, run, show, forgetMs };
