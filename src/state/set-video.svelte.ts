import { videoSentence } from '../core/feedback/storage-problems.ts';
import type { SetPlace } from '../core/session/session-store.ts';
import type { VideoParts, VideoRecording } from '../core/session/video-recording.ts';
import type { StorageProblem } from '../core/stored.ts';

/** A set whose video is kept, with its size so far. */
export interface VideoOfSet {
  readonly place: SetPlace;
  readonly bytes: number;
}

interface Running {
  readonly recording: VideoRecording;
  readonly place: SetPlace;
  /** Settles when what came so far is written. */
  written: Promise<void>;
}

/** Keeps the video of sets on this machine while they run, because the person asked for it. The record does not depend on it. */
export class SetVideo {
  readonly #parts: VideoParts;
  #running: Running | null = null;
  #isWanted = $state(false);
  #kept = $state.raw<readonly VideoOfSet[]>([]);
  #problem = $state<StorageProblem | 'not-recorded' | null>(null);

  constructor(parts: VideoParts) {
    this.#parts = parts;
  }

  /** Whether the next sets are kept as video. */
  get isWanted(): boolean {
    return this.#isWanted;
  }

  /** The videos of this session that are kept, the running one among them. */
  get kept(): readonly VideoOfSet[] {
    return this.#kept;
  }

  /** The sentence for why a video is not kept, or null. */
  get problem(): string | null {
    return this.#problem === null ? null : videoSentence(this.#problem);
  }

  want(isWanted: boolean): void {
    this.#isWanted = isWanted;
    this.#problem = null;
  }

  /** Forgets the videos of the session before; they stay kept. */
  forget(): void {
    this.#kept = [];
    this.#problem = null;
  }

  /**
   * Begins the video of a set, where it is wanted.
   * @param startSeconds - of the set's first picture, on the record's own clock
   */
  begin(place: SetPlace, stream: MediaStream, startSeconds: number): void {
    if (!this.#isWanted || this.#running !== null) return;
    let chunkIndex = 0;
    const recording = this.#parts.record(stream, (bytes) => {
      const running = this.#running;
      if (running === null) return;
      const index = chunkIndex++;
      running.written = running.written.then(() => this.#append(running.place, index, bytes));
    });
    if (recording === null) {
      this.#problem = 'not-recorded';
      return;
    }
    const begun = this.#parts.store.beginVideo(place, { mimeType: recording.mimeType, startSeconds });
    const written = begun.then((stored) => {
      if (!stored.ok) this.#problem = stored.problem;
    });
    this.#kept = [...this.#kept, { place, bytes: 0 }];
    this.#running = { recording, place, written };
  }

  /** Ends the video of the set that runs; settles when all of it is written or cannot be. */
  async end(): Promise<void> {
    const running = this.#running;
    if (running === null) return;
    await running.recording.stop();
    await running.written;
    this.#running = null;
    if (this.#problem === null) await this.#parts.store.endVideo(running.place);
  }

  /** Deletes a kept video; the record stays. */
  async remove(place: SetPlace): Promise<void> {
    const gone = await this.#parts.store.deleteVideo(place);
    if (gone.ok) this.#kept = this.#kept.filter((video) => video.place !== place);
    else this.#problem = gone.problem;
  }

  /** After the first chunk that could not be written no more are: what is kept has no hole. */
  async #append(place: SetPlace, chunkIndex: number, bytes: Blob): Promise<void> {
    if (this.#problem !== null) return;
    const stored = await this.#parts.store.appendChunk(place, chunkIndex, await bytes.arrayBuffer());
    if (!stored.ok) {
      this.#problem = stored.problem;
      return;
    }
    this.#kept = this.#kept.map((video) =>
      video.place === place ? { place, bytes: video.bytes + bytes.size } : video,
    );
  }
}
