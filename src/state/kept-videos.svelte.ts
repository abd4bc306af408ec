import { videoSentence } from '../core/feedback/storage-problems.ts';
import type { KeptVideo } from '../core/session/video-store.ts';
import type { VideoParts } from '../core/session/video-recording.ts';

/** The kept videos of a session that is looked back at. */
export class KeptVideos {
  readonly #parts: VideoParts;
  #videos = $state.raw<readonly KeptVideo[]>([]);
  #problem = $state<string | null>(null);

  constructor(parts: VideoParts) {
    this.#parts = parts;
  }

  /** The videos of the session, in the order of its sets. */
  get videos(): readonly KeptVideo[] {
    return this.#videos;
  }

  /** The sentence for what went wrong last, or null. */
  get problem(): string | null {
    return this.#problem;
  }

  async look(sessionId: string): Promise<void> {
    const listed = await this.#parts.store.listVideos(sessionId);
    this.#videos = listed.ok ? listed.value : [];
    this.#problem = listed.ok ? null : videoSentence(listed.problem);
  }

  /** A kept video in which every moment can be gone to; null where it cannot be read. */
  async load(video: KeptVideo): Promise<Blob | null> {
    const loaded = await this.#parts.store.loadVideo(video);
    if (!loaded.ok) {
      this.#problem = videoSentence(loaded.problem);
      return null;
    }
    try {
      return await this.#parts.makeSeekable(loaded.value);
    } catch {
      this.#problem = videoSentence('unreadable');
      return null;
    }
  }

  /** Deletes a video for good; the record stays. */
  async remove(video: KeptVideo): Promise<void> {
    const gone = await this.#parts.store.deleteVideo(video);
    if (gone.ok) this.#videos = this.#videos.filter((other) => other !== video);
    else this.#problem = videoSentence(gone.problem);
  }
}
