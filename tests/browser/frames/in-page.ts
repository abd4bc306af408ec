import { openClip } from '../../../src/adapters/frames/clip-source.ts';
import type { SourceEnd, SourceProblem } from '../../../src/core/pose/frame-source.ts';
import { type ClipPlan, makeClip, makeSound } from './make-clip.ts';

/** What came out of a clip, as plain data. */
export interface Played {
  readonly problem: SourceProblem | null;
  readonly end: SourceEnd | null;
  readonly durationSeconds: number | null;
  readonly timesSeconds: readonly number[];
  readonly size: readonly [number, number] | null;
  /** Red, green and blue at an eighth and seven eighths of the first picture, by corner. */
  readonly corners: Readonly<
    Record<'topLeft' | 'topRight' | 'bottomRight' | 'bottomLeft', readonly number[]>
  > | null;
  readonly brightness: readonly (number | null)[];
}

/** What tests call in the page; bytes cross over as base64. */
interface FramesPage {
  makeClip(plan: ClipPlan): Promise<string>;
  makeSound(): Promise<string>;
  playClip(base64: string, stopAfter: number): Promise<Played>;
}

declare global {
  interface Window {
    framesPage: FramesPage;
  }
}

async function playClip(base64: string, stopAfter: number): Promise<Played> {
  const blob = await (await fetch(`data:video/mp4;base64,${base64}`)).blob();
  const opened = await openClip(blob, { kind: 'clip', label: 'clip' });
  const timesSeconds: number[] = [];
  const brightness: (number | null)[] = [];
  let size: [number, number] | null = null;
  let corners: Played['corners'] = null;
  const nothing = { timesSeconds, size, corners, brightness };
  if (!opened.ok) return { ...nothing, problem: opened.problem, end: null, durationSeconds: null };
  const { source } = opened;
  const end = await source.run(async (picture) => {
    timesSeconds.push(picture.timeSeconds);
    brightness.push(picture.brightness);
    if (size === null) {
      const { widthPx, heightPx } = picture;
      size = [widthPx, heightPx];
      const copy = new OffscreenCanvas(widthPx, heightPx).getContext('2d');
      if (copy === null) throw new Error('no canvas');
      copy.drawImage(picture.picture, 0, 0);
      const [near, far] = [1 / 8, 7 / 8];
      const at = (x: number, y: number) => [
        ...copy.getImageData(x * widthPx, y * heightPx, 1, 1).data.slice(0, 3),
      ];
      corners = {
        topLeft: at(near, near),
        topRight: at(far, near),
        bottomRight: at(far, far),
        bottomLeft: at(near, far),
      };
    }
    if (timesSeconds.length >= stopAfter) source.stop();
    // Slower than the decoder: a source that queued or dropped would show.
    await new Promise((resolve) => setTimeout(resolve, 5));
  });
  return {
    problem: null,
    end,
    durationSeconds: source.durationSeconds,
    timesSeconds,
    size,
    corners,
    brightness,
  };
}

function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text);
}

window.framesPage = {
  makeClip: async (plan) => toBase64(await makeClip(plan)),
  makeSound: async () => toBase64(await makeSound()),
  playClip,
};
