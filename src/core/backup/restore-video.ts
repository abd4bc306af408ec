import { bytesOfBase64 } from '../documents/base64.ts';
import type { KeptVideo, VideoStore } from '../session/video-store.ts';
import type { Stored } from '../stored.ts';
import type { RestoreOutcome } from './restore.ts';

/** Takes in what a backup says in several lines: its heading, its bytes in order, its end. */
export interface PartsRestoring<Head> {
  begin(head: Head): Promise<Stored<RestoreOutcome | null>>;
  /** base64: the bytes that follow. */
  bytes(base64: string): Promise<Stored<null>>;
  /** To be called when no more bytes follow; nothing happens when nothing was begun. */
  end(): Promise<Stored<RestoreOutcome | null>>;
}

const NOTHING: Stored<null> = { ok: true, value: null };

/**
 * Takes videos in. One that is kept in full already is left as it is; one of which restoring broke off is written anew.
 */
export function restoreVideo(store: VideoStore | null): PartsRestoring<KeptVideo> {
  let open: { readonly video: KeptVideo; chunks: number } | null = null;
  return {
    begin: async (video) => {
      open = null;
      if (store === null) return { ok: true, value: 'left' };
      const listed = await store.listVideos(video.sessionId);
      if (!listed.ok) return listed;
      const here = listed.value.find(({ setIndex }) => setIndex === video.setIndex);
      const { bytes, mimeType } = video;
      if (here !== undefined && here.bytes === bytes && here.mimeType === mimeType)
        return { ok: true, value: 'same' };
      if (here?.isEnded === true) return { ok: true, value: 'left' };
      const { startSeconds } = video;
      const begun = await store.beginVideo(video, { mimeType, startSeconds });
      if (begun.ok) open = { video, chunks: 0 };
      return begun;
    },
    bytes: async (base64) => {
      if (store === null || open === null) return NOTHING;
      return store.appendChunk(open.video, open.chunks++, bytesOfBase64(base64).buffer);
    },
    end: async () => {
      if (store === null || open === null) return NOTHING;
      const { video } = open;
      open = null;
      const ended = video.isEnded ? await store.endVideo(video) : NOTHING;
      return ended.ok ? { ok: true, value: 'added' } : ended;
    },
  };
}
