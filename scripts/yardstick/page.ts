import { createStudio, type Studio } from '../../demo-clips/generator/render/studio.ts';
import { createRandom } from '../../demo-clips/generator/seeded-random.ts';
import { yardstickCases, type YardstickCase } from '../../demo-clips/generator/yardstick/cases.ts';
import type { FromStillWorker, SeenStill, ToStillWorker } from './still-worker.ts';

/** What the networks found in one picture, and how long it took. */
export interface SeenPicture extends SeenStill {
  readonly drawMs: number;
}

export interface YardstickPage {
  /** Loads the networks. */
  open(): Promise<void>;
  /** Draws a moment of a case and has the networks look at it. */
  see(caseId: string, timeSeconds: number): Promise<SeenPicture>;
  /** Draws a moment of a case as the networks get it: a JPEG's data address. */
  still(caseId: string, timeSeconds: number): Promise<string>;
}

declare global {
  interface Window {
    yardstickPage: YardstickPage;
  }
}

/** Strength of the compression, as browsers state it: a video call's to a good clip's. Common practice, no source. */
const QUALITY = { worst: 0.5, best: 0.9 } as const;

const cases = new Map(
  [...yardstickCases('developing'), ...yardstickCases('proof')].map((one) => [one.id, one]),
);
const worker = new Worker(new URL('./still-worker.ts', import.meta.url), { type: 'module' });

let open: { readonly id: string; readonly studio: Studio } | null = null;

/** Sends a message to the worker and waits for its answer; one at a time. */
function ask(message: ToStillWorker): Promise<FromStillWorker> {
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data }: MessageEvent<FromStillWorker>) =>
      data.kind === 'failed' ? reject(new Error(data.detail)) : resolve(data);
    worker.onerror = (event) => reject(new Error(event.message));
    worker.postMessage(message);
  });
}

function caseOf(id: string): YardstickCase {
  const found = cases.get(id);
  if (found === undefined) throw new Error(`There is no case ${id}.`);
  return found;
}

function studioOf(drawnCase: YardstickCase): Studio {
  if (open?.id === drawnCase.id) return open.studio;
  // A browser keeps few drawing contexts; the last case's would go on living until memory is short.
  open?.studio.canvas.getContext('webgl2')?.getExtension('WEBGL_lose_context')?.loseContext();
  open = { id: drawnCase.id, studio: createStudio(drawnCase.outline) };
  return open.studio;
}

async function drawJpeg(id: string, timeSeconds: number): Promise<Blob> {
  const drawnCase = caseOf(id);
  const { outline } = drawnCase;
  const studio = studioOf(drawnCase);
  // The studio counts in pictures of the clip; a moment between two is as good.
  studio.draw(timeSeconds * outline.fps);
  if (studio.canvas.getContext('webgl2')?.isContextLost() !== false)
    throw new Error('The browser gave the drawing up.');
  const quality = createRandom(outline.seed).fork('compression').between(QUALITY.worst, QUALITY.best);
  return new Promise((resolve, reject) => {
    studio.canvas.toBlob(
      (blob) => (blob === null ? reject(new Error('The picture could not be compressed.')) : resolve(blob)),
      'image/jpeg',
      quality,
    );
  });
}

window.yardstickPage = {
  async open() {
    await ask({ kind: 'open', modelBase: '/models/' });
  },
  async see(caseId, timeSeconds) {
    const from = performance.now();
    const jpeg = await drawJpeg(caseId, timeSeconds);
    const drawMs = performance.now() - from;
    const seen = await ask({ kind: 'see', jpeg });
    if (seen.kind !== 'seen') throw new Error(`unexpected answer ${seen.kind}`);
    return { ...seen.still, drawMs };
  },
  async still(caseId, timeSeconds) {
    const jpeg = await drawJpeg(caseId, timeSeconds);
    return new Promise((resolve) => {
      const file = new FileReader();
      file.onload = () => resolve(String(file.result));
      file.readAsDataURL(jpeg);
    });
  },
};
