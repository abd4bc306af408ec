import { setTimeout } from 'node:timers/promises';
import type { YardstickCase } from '../../demo-clips/generator/yardstick/cases.ts';
import type { FoundPoses } from '../../tests/yardstick/trace.ts';
import type { OpenedPage, YardstickPages } from './open-pages.ts';
import type { SeenPicture } from './page.ts';

/** Times that one picture is tried, each time in a fresh browser. */
const TRIES = 3;
/** A picture takes seconds; a page that needs this long answers no more. */
const MOST_SECONDS = 180;

/** What is told while pictures are drawn. */
export interface DrawingListener {
  /** share: of the case's pictures that are done, 0 to 1. */
  pictureDone(drawnCase: YardstickCase, share: number, picture: SeenPicture): void;
  caseDone(drawnCase: YardstickCase, found: FoundPoses): void;
  /** A page failed and is opened anew. */
  restarted(drawnCase: YardstickCase, error: unknown): void;
}

/**
 * Draws every moment of the cases on so many pages side by side, and hands over what the networks found, case by case.
 * Rejects when a picture fails again and again; what was handed over before stays.
 */
export async function drawCases(
  cases: readonly YardstickCase[],
  pages: YardstickPages,
  pageCount: number,
  listener: DrawingListener,
): Promise<void> {
  const waiting = [...cases];
  const work = async (): Promise<void> => {
    const page = new LastingPage(pages, listener);
    try {
      for (let next = waiting.shift(); next !== undefined; next = waiting.shift())
        listener.caseDone(next, await drawCase(next, page, listener));
    } finally {
      await page.close();
    }
  };
  await Promise.all(Array.from({ length: pageCount }, work));
}

async function drawCase(
  drawnCase: YardstickCase,
  page: LastingPage,
  listener: DrawingListener,
): Promise<FoundPoses> {
  const pictures: SeenPicture[] = [];
  for (const timeSeconds of drawnCase.drawnTimesSeconds) {
    const picture = await page.see(drawnCase, timeSeconds);
    assertSize(drawnCase, picture);
    pictures.push(picture);
    listener.pictureDone(drawnCase, pictures.length / drawnCase.drawnTimesSeconds.length, picture);
  }
  return {
    full: pictures.map(({ poses }) => poses.full),
    fullMirrored: pictures.map(({ poses }) => poses.fullMirrored),
    heavy: pictures.map(({ poses }) => poses.heavy),
  };
}

/** A page that is opened when it is needed, and anew when it fails. */
class LastingPage {
  readonly #pages: YardstickPages;
  readonly #listener: DrawingListener;
  #opened: OpenedPage | null = null;

  constructor(pages: YardstickPages, listener: DrawingListener) {
    this.#pages = pages;
    this.#listener = listener;
  }

  async see(drawnCase: YardstickCase, timeSeconds: number): Promise<SeenPicture> {
    for (let tries = 1; ; tries += 1)
      try {
        this.#opened ??= await this.#pages.openPage();
        const seen = this.#opened.page.evaluate(([id, time]) => window.yardstickPage.see(id, time), [
          drawnCase.id,
          timeSeconds,
        ] as const);
        return await inTime(seen);
      } catch (error) {
        await this.close();
        if (tries === TRIES) throw new Error(`${drawnCase.id} could not be drawn.`, { cause: error });
        this.#listener.restarted(drawnCase, error);
      }
  }

  async close(): Promise<void> {
    // A browser that died cannot be closed any more.
    await this.#opened?.close().catch(() => undefined);
    this.#opened = null;
  }
}

/** The same, but rejects when it takes too long. */
async function inTime<T>(work: Promise<T>): Promise<T> {
  const giveUp = new AbortController();
  const limit = setTimeout(MOST_SECONDS * 1000, null, { signal: giveUp.signal }).then(() => {
    throw new Error(`The page did not answer for ${String(MOST_SECONDS)} s.`);
  });
  try {
    return await Promise.race([work, limit]);
  } finally {
    limit.catch(() => undefined);
    giveUp.abort();
  }
}

/** Landmarks are compared with the true camera's pixels, so the picture must have come through in its own size. */
function assertSize({ id, outline }: YardstickCase, { widthPx, heightPx }: SeenPicture): void {
  const { camera } = outline;
  if (widthPx !== camera.widthPx || heightPx !== camera.heightPx)
    throw new Error(
      `${id} was looked at in ${String(widthPx)} x ${String(heightPx)} pixels, not in its own size.`,
    );
}
