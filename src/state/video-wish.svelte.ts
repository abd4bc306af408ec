import type { FrameSource } from '../core/pose/frame-source.ts';
import type { LiveParts } from './live-parts.ts';
import type { SessionKeeping } from './session-keeping.svelte.ts';
import type { SetVideo } from './set-video.svelte.ts';

/** The person's wish for the video of sets; what keeps it loads with the wish. */
export class VideoWish {
  readonly #load: LiveParts['videos'];
  #video = $state.raw<SetVideo | null>(null);

  constructor(load: LiveParts['videos']) {
    this.#load = load;
  }

  /** Whether videos can be kept here. */
  get canKeep(): boolean {
    return this.#load !== null;
  }

  /** What keeps videos; null until one was wished for. */
  get now(): SetVideo | null {
    return this.#video;
  }

  /** The person asks for the video of the next sets, or for none. */
  async want(isWanted: boolean): Promise<void> {
    if (this.#load === null || (this.#video === null && !isWanted)) return;
    if (this.#video === null) {
      const [parts, { SetVideo }] = await Promise.all([this.#load(), import('./set-video.svelte.ts')]);
      this.#video ??= new SetVideo(parts);
    }
    this.#video.want(isWanted);
  }

  /**
   * Begins the video of the set that has just begun with a picture of the given time, where it is wished for. None of a tile:
   * it would be of the whole window, with everybody in it.
   */
  begin({ feed }: FrameSource, { sessionId, setCount }: SessionKeeping, timeSeconds: number): void {
    if (this.#video === null || sessionId === null || feed.kind !== 'live') return;
    if (feed.framing !== null && feed.framing.tile !== null) return;
    if (setCount === 1) this.#video.forget();
    this.#video.begin({ sessionId, setIndex: setCount - 1 }, feed.stream, timeSeconds);
  }

  /** Ends the video of the set; settles when all of it is written. */
  async end(): Promise<void> {
    await this.#video?.end();
  }
}
