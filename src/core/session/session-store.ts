import type { PictureTile } from '../pose/picture-tile.ts';
import type { Stored } from '../stored.ts';
import type { SetNotes } from './cue-log.ts';
import type { ListedFacts } from './session-listing.ts';
import type { FrameSeries } from './quantised-frames.ts';
import type { Answers, SessionHeader, SessionRecord, SetFindings } from './session-record.ts';

/** Which set of which session; sets count from 0. */
export interface SetPlace {
  readonly sessionId: string;
  readonly setIndex: number;
}

/** What is known when a set begins. */
export interface SetBeginning {
  /** Moment with offset, as in the record. */
  readonly startedAt: string;
  readonly painBefore: number | null;
  /** The part of a shared picture that is measured; none where the whole is. */
  readonly tile?: PictureTile | null;
}

/** unfinished: broken off by a crash or a closed tab. recording: being recorded now, here or in another tab. */
export type SessionState = 'finished' | 'unfinished' | 'recording';

/** A kept session in a list. Its figures are of the sets that were ended: one that broke off is judged when it is opened. */
export interface SessionListing extends ListedFacts {
  readonly state: SessionState;
  /** Seconds of frames kept of a set that broke off; 0 when none did. */
  readonly cutOffSeconds: number;
}

/** How much room the records take. */
export interface StorageUsage {
  readonly usedBytes: number | null;
  readonly roomBytes: number | null;
  /** True when the browser promised not to clear it by itself. */
  readonly protectedFromClearing: boolean;
}

/**
 * Keeps session records on this machine. Written while recording in small appending steps, so that a crash costs a
 * second and not the session. Nothing rejects: every failure is a value. Every step may be repeated without harm.
 */
export interface SessionStore {
  /** "this-visit" keeps nothing beyond the page: storage is forbidden here. */
  readonly lasts: 'on-this-machine' | 'this-visit';
  beginSession(header: SessionHeader): Promise<Stored<null>>;
  beginSet(place: SetPlace, beginning: SetBeginning): Promise<Stored<null>>;
  /** Adds frames to a set. Pieces of a set count from 0, without holes. */
  appendFrames(place: SetPlace, pieceIndex: number, piece: FrameSeries): Promise<Stored<null>>;
  finishSet(place: SetPlace, findings: SetFindings): Promise<Stored<null>>;
  answerSet(place: SetPlace, answers: Answers): Promise<Stored<null>>;
  /** Keeps what was noted in the course of a set so far, all of it anew. */
  noteSet(place: SetPlace, notes: SetNotes): Promise<Stored<null>>;
  /** Ends a session, also one that broke off: judges what has not been judged and marks it as finished. */
  finishSession(sessionId: string): Promise<Stored<null>>;
  /**
   * All kept sessions that can be read, the newest first. Quick for ten thousand; where the list must be made first (the
   * first time after an update), onProgress hears the share that is done, 0 to 1. Once isWanted says no it gives what it has.
   */
  listSessions(
    onProgress?: (share: number) => void,
    isWanted?: () => boolean,
  ): Promise<Stored<SessionListing[]>>;
  /** The sessions that belong to a training day, the newest first. */
  sessionsOfDay(dayId: string): Promise<Stored<SessionListing[]>>;
  /** The sessions that broke off and are not being recorded elsewhere, the newest first. */
  unfinished(): Promise<Stored<SessionListing[]>>;
  /** A whole record. A set that broke off is put together from its pieces and judged. */
  loadSession(sessionId: string): Promise<Stored<SessionRecord>>;
  deleteSession(sessionId: string): Promise<Stored<null>>;
  /** Keeps a record that came from elsewhere. Never overwrites. */
  importRecord(record: SessionRecord): Promise<Stored<null>>;
  /** Puts a later state of a finished record in the place of the one that is kept, in one step. */
  renewRecord(record: SessionRecord): Promise<Stored<null>>;
  usage(): Promise<Stored<StorageUsage>>;
}
