import { CLIPS } from '../clips.ts';
import { createStudio, type Studio } from './studio.ts';

/** What the command calls in the page. */
export interface PhantomPage {
  /** One frame as a PNG data address. */
  still(clipName: string, frameIndex: number): string;
  /** The clip as MP4, in base64. */
  film(clipName: string): Promise<string>;
  /** Frames drawn so far. */
  framesDone: number;
}

declare global {
  interface Window {
    phantomPage: PhantomPage;
  }
}

let open: { name: string; studio: Studio } | null = null;

function studioOf(name: string): Studio {
  if (open?.name === name) return open.studio;
  const outline = CLIPS.find((clip) => clip.name === name);
  if (outline === undefined) throw new Error(`There is no clip named ${name}.`);
  open = { name, studio: createStudio(outline) };
  return open.studio;
}

window.phantomPage = {
  framesDone: 0,
  still(clipName, frameIndex) {
    const studio = studioOf(clipName);
    studio.draw(frameIndex);
    return studio.canvas.toDataURL('image/png');
  },
  async film(clipName) {
    const file = await studioOf(clipName).film((frameIndex) => {
      window.phantomPage.framesDone = frameIndex + 1;
    });
    return toBase64(new Uint8Array(file));
  },
};

function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000)
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}
