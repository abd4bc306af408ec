import type { SetPlace } from '../../core/session/session-store.ts';
import type { KeptVideo, VideoBeginning, VideoStore } from '../../core/session/video-store.ts';
import { STORED, type Stored } from '../../core/stored.ts';
import { failed, onDatabase } from './on-database.ts';
import { keysFrom, type SessionDatabase } from './session-database.ts';

/** Videos of sets in the browser's database, written chunk by chunk while recording. */
export class IdbVideoStore implements VideoStore {
  readonly #db: SessionDatabase;

  constructor(db: SessionDatabase) {
    this.#db = db;
  }

  beginVideo(place: SetPlace, beginning: VideoBeginning): Promise<Stored<null>> {
    const { videos, videoChunks } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', videos, videoChunks, async () => {
        await this.#deleteChunks(place);
        await videos.put({ ...keyed(place), ...beginning, bytes: 0, isEnded: false });
        return STORED;
      }),
    );
  }

  appendChunk(place: SetPlace, chunkIndex: number, bytes: ArrayBuffer): Promise<Stored<null>> {
    const { videos, videoChunks } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', videos, videoChunks, async () => {
        const video = await videos.get(keyOf(place));
        if (video === undefined) return missing(place);
        const { sessionId, setIndex } = place;
        const before = await videoChunks.get([sessionId, setIndex, chunkIndex]);
        await videoChunks.put({ sessionId, setIndex, chunkIndex, bytes });
        const added = bytes.byteLength - (before?.bytes.byteLength ?? 0);
        await videos.put({ ...video, bytes: video.bytes + added });
        return STORED;
      }),
    );
  }

  endVideo(place: SetPlace): Promise<Stored<null>> {
    const { videos } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', videos, async () => {
        const video = await videos.get(keyOf(place));
        if (video === undefined) return missing(place);
        await videos.put({ ...video, isEnded: true });
        return STORED;
      }),
    );
  }

  listVideos(sessionId?: string): Promise<Stored<readonly KeptVideo[]>> {
    const { videos } = this.#db;
    return this.#attempt(async () => {
      const rows =
        sessionId === undefined ? videos.toCollection() : videos.where(':id').between(...keysFrom(sessionId));
      return { ok: true, value: await rows.toArray() };
    });
  }

  loadVideo(place: SetPlace): Promise<Stored<Blob>> {
    const { videos, videoChunks } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('r', videos, videoChunks, async (): Promise<Stored<Blob>> => {
        const video = await videos.get(keyOf(place));
        if (video === undefined) return missing(place);
        const chunks = await videoChunks
          .where(':id')
          .between(...keysFrom(...keyOf(place)))
          .toArray();
        const parts = chunks.map(({ bytes }) => bytes);
        return { ok: true, value: new Blob(parts, { type: video.mimeType }) };
      }),
    );
  }

  deleteVideo(place: SetPlace): Promise<Stored<null>> {
    const { videos, videoChunks } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', videos, videoChunks, async () => {
        await videos.delete(keyOf(place));
        await this.#deleteChunks(place);
        return STORED;
      }),
    );
  }

  deleteVideosOf(sessionId: string): Promise<Stored<null>> {
    const { videos, videoChunks } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', videos, videoChunks, async () => {
        for (const table of [videos, videoChunks])
          await table
            .where(':id')
            .between(...keysFrom(sessionId))
            .delete();
        return STORED;
      }),
    );
  }

  async #deleteChunks(place: SetPlace): Promise<void> {
    await this.#db.videoChunks
      .where(':id')
      .between(...keysFrom(...keyOf(place)))
      .delete();
  }

  #attempt<Value>(work: () => PromiseLike<Stored<Value>>): Promise<Stored<Value>> {
    return onDatabase(this.#db, work);
  }
}

function keyOf({ sessionId, setIndex }: SetPlace): [string, number] {
  return [sessionId, setIndex];
}

function keyed({ sessionId, setIndex }: SetPlace): SetPlace {
  return { sessionId, setIndex };
}

function missing(place: SetPlace): Stored<never> {
  return failed('missing', `No video is kept under ${JSON.stringify(place)}.`);
}
