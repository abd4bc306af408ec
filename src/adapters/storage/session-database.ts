import { Dexie, type EntityTable, type Table } from 'dexie';
import type { AsideRow } from '../../core/backup/store-care.ts';
import type { KeptBeside } from '../../core/exchange/exchange-store.ts';
import type { TakenOut } from '../../core/plan/plan-store.ts';
import type { KeptSet } from '../../core/session/assemble-record.ts';
import type { FrameSeries } from '../../core/session/quantised-frames.ts';
import type { ListedFacts } from '../../core/session/session-listing.ts';
import type { SessionHeader } from '../../core/session/session-record.ts';
import type { KeptVideo } from '../../core/session/video-store.ts';

/** A session as its own small row, written once at the start and once at the end. */
export interface SessionRow {
  readonly id: string;
  readonly header: SessionHeader;
  readonly finished: boolean;
}

/** A set without its frames. */
export interface SetRow extends Omit<KeptSet, 'pieces'> {
  readonly sessionId: string;
  readonly setIndex: number;
}

/** About half a second of frames. */
export interface PieceRow {
  readonly sessionId: string;
  readonly setIndex: number;
  readonly pieceIndex: number;
  readonly frames: FrameSeries;
}

/** About a second of the video of a set. */
export interface VideoChunkRow {
  readonly sessionId: string;
  readonly setIndex: number;
  readonly chunkIndex: number;
  readonly bytes: ArrayBuffer;
}

/** One version of a plan. Values that come from outside are read through their gate whenever they are used. */
export type PlanRow = TakenOut['plans'][number];
type DayRow = TakenOut['days'][number];
type DecisionRow = TakenOut['decisions'][number];

/** The facts of a finished session for the list, kept in step with its rows; made again where they are missing. */
export interface ListingRow {
  readonly id: string;
  /** Of which training day, "" without one: what is null is not in an index. */
  readonly dayId: string;
  readonly factsVersion: number;
  readonly facts: ListedFacts;
}

/** A document that comes from outside is read through its gate whenever it is used. */
export interface ReviewRow {
  readonly id: string;
  readonly sessionId: string;
  readonly review: unknown;
}

/** A key or another small thing that packages need, under its name. */
export interface KeyRow {
  readonly name: string;
  readonly value: unknown;
}

/**
 * What there is one of: the id of the plan that sessions follow, the plan that is being written, and the sessions that
 * were deleted (deleted-sessions.ts) and whose videos and reviews are still here, so that they can be brought back with them.
 */
interface DeskRow {
  readonly key: 'followed' | 'draft' | 'deleted';
  readonly value: unknown;
}

/** The first and the last key of all rows that begin with the given parts. */
export function keysFrom(...parts: readonly (string | number)[]): [unknown[], unknown[]] {
  return [
    [...parts, Dexie.minKey],
    [...parts, Dexie.maxKey],
  ];
}

/**
 * The tables on this machine. When the record's schema gets a new version, this database gets a new version with an
 * upgrade of the rows beside it: header, findings and frames follow the record's schema.
 */
export class SessionDatabase extends Dexie {
  readonly sessions!: EntityTable<SessionRow, 'id'>;
  readonly sets!: Table<SetRow, [string, number]>;
  readonly pieces!: Table<PieceRow, [string, number, number]>;
  readonly plans!: Table<PlanRow, [string, number]>;
  readonly days!: EntityTable<DayRow, 'id'>;
  readonly decisions!: EntityTable<DecisionRow, 'id'>;
  readonly desk!: EntityTable<DeskRow, 'key'>;
  readonly videos!: Table<KeptVideo, [string, number]>;
  readonly videoChunks!: Table<VideoChunkRow, [string, number, number]>;
  readonly listings!: EntityTable<ListingRow, 'id'>;
  readonly reviews!: EntityTable<ReviewRow, 'id'>;
  readonly keys!: EntityTable<KeyRow, 'name'>;
  readonly aside!: EntityTable<AsideRow, 'id'>;
  readonly beside!: EntityTable<KeptBeside, 'key'>;

  constructor(name = 'forearmed') {
    // Strict: a piece counts as written when it is on the disk, so that a power cut costs no more than a crash.
    super(name, { chromeTransactionDurability: 'strict' });
    this.version(1).stores({
      sessions: 'id',
      sets: '[sessionId+setIndex]',
      pieces: '[sessionId+setIndex+pieceIndex]',
    });
    // Version 2 keeps plans, training days and decisions as well; what version 1 kept stays as it is.
    this.version(2).stores({
      plans: '[planId+version]',
      days: 'id, planId',
      decisions: 'id, planId',
      desk: 'key',
    });
    // Version 3 adds what is kept beside the sessions. Listings of older sessions are made when they are first listed: an
    // upgrade would hold up the opening of the database for as long as that takes.
    this.version(3).stores({
      listings: 'id, dayId, factsVersion',
      reviews: 'id, sessionId',
      videos: '[sessionId+setIndex]',
      videoChunks: '[sessionId+setIndex+chunkIndex]',
      keys: 'name',
      aside: 'id, table',
      beside: 'key, ownerId',
    });
  }
}
