import { Dexie, type EntityTable, type Table } from 'dexie';
import type { KeptSet } from '../../core/session/assemble-record.ts';
import type { FrameSeries } from '../../core/session/quantised-frames.ts';
import type { SessionHeader } from '../../core/session/session-record.ts';

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

  constructor(name = 'forearmed') {
    // Strict: a piece counts as written when it is on the disk, so that a power cut costs no more than a crash.
    super(name, { chromeTransactionDurability: 'strict' });
    this.version(1).stores({
      sessions: 'id',
      sets: '[sessionId+setIndex]',
      pieces: '[sessionId+setIndex+pieceIndex]',
    });
  }
}
