import { z } from 'zod';
import type { Stored } from '../stored.ts';
import type { SetPlace } from './session-store.ts';

/** What is known of the video of a set that a person asked to keep. Its pictures are kept beside it, in chunks as they came. */
export const keptVideoSchema = z.strictObject({
  sessionId: z.uuid(),
  setIndex: z.int().min(0).describe('Which set of the session record, from 0.'),
  mimeType: z
    .string()
    .max(120)
    .regex(/^video\//),
  startSeconds: z
    .number()
    .nullable()
    .describe("The moment of its first picture on the record's own clock; null: no picture came yet."),
  bytes: z.int().min(0).describe('Of all its chunks.'),
  isEnded: z.boolean().describe('False while it is recorded, and where recording broke off.'),
});
export type KeptVideo = z.infer<typeof keptVideoSchema>;

/** What a video of a set is begun with. */
export type VideoBeginning = Pick<KeptVideo, 'mimeType' | 'startSeconds'>;

/**
 * Keeps the videos of sets, on this machine, only where a person asked for it. Written while recording in small appending
 * steps, so that a crash costs a second and not the video. Nothing rejects: every failure is a value.
 */
export interface VideoStore {
  beginVideo(place: SetPlace, beginning: VideoBeginning): Promise<Stored<null>>;
  /** Adds bytes to a video that was begun. Chunks count from 0, without holes; the same one twice counts once. */
  appendChunk(place: SetPlace, chunkIndex: number, bytes: ArrayBuffer): Promise<Stored<null>>;
  endVideo(place: SetPlace): Promise<Stored<null>>;
  /** The videos of a session in the order of its sets; of all sessions where none is given. */
  listVideos(sessionId?: string): Promise<Stored<readonly KeptVideo[]>>;
  /** All chunks of a video, in order. */
  loadVideo(place: SetPlace): Promise<Stored<Blob>>;
  deleteVideo(place: SetPlace): Promise<Stored<null>>;
  deleteVideosOf(sessionId: string): Promise<Stored<null>>;
}
