import { assembleRecord, hasContent, judgePieces, type KeptSet } from '../../core/session/assemble-record.ts';
import { readRecordValue } from '../../core/session/migrations.ts';
import { secondsAcross, type FrameSeries } from '../../core/session/quantised-frames.ts';
import {
  findingsOf,
  headerOf,
  type Answers,
  type SessionHeader,
  type SessionRecord,
  type SetFindings,
} from '../../core/session/session-record.ts';
import {
  STORED,
  type SessionListing,
  type SessionStore,
  type SetBeginning,
  type SetPlace,
  type StorageProblem,
  type StorageUsage,
  type Stored,
} from '../../core/session/session-store.ts';
import { summariseSession } from '../../core/session/summary.ts';
import { RecordingLocks } from './recording-locks.ts';
import { keysFrom, type SessionDatabase, type SessionRow, type SetRow } from './session-database.ts';
import { failureDetail, storageProblemOf } from './storage-failure.ts';

/** Session records in the browser's database, written step by step while recording. */
export class IdbSessionStore implements SessionStore {
  readonly lasts = 'on-this-machine';
  readonly #db: SessionDatabase;
  readonly #locks = new RecordingLocks();

  constructor(db: SessionDatabase) {
    this.#db = db;
  }

  async beginSession(header: SessionHeader): Promise<Stored<null>> {
    // Not waited for: some browsers ask the person, and recording must not wait for the answer.
    navigator.storage?.persist?.().catch(() => false);
    await this.#locks.hold(header.id);
    return this.#attempt(async () => {
      await this.#db.sessions.put({ id: header.id, header, finished: false });
      return STORED;
    });
  }

  beginSet(place: SetPlace, beginning: SetBeginning): Promise<Stored<null>> {
    const { sessions, sets } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', sessions, sets, async () => {
        if ((await sessions.get(place.sessionId)) === undefined) return missing(place);
        await sets.put({ ...place, beginning, findings: null, answers: null, cutOff: false });
        return STORED;
      }),
    );
  }

  appendFrames(place: SetPlace, pieceIndex: number, piece: FrameSeries): Promise<Stored<null>> {
    const { sets, pieces } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', sets, pieces, async () => {
        if ((await sets.get(keyOf(place))) === undefined) return missing(place);
        await pieces.put({ ...place, pieceIndex, frames: piece });
        return STORED;
      }),
    );
  }

  finishSet(place: SetPlace, findings: SetFindings): Promise<Stored<null>> {
    return this.#changeSet(place, { findings });
  }

  answerSet(place: SetPlace, answers: Answers): Promise<Stored<null>> {
    return this.#changeSet(place, { answers });
  }

  async finishSession(sessionId: string): Promise<Stored<null>> {
    const finished = await this.#attempt(async () => {
      const kept = await this.#read(sessionId);
      if (kept === null) return missing({ sessionId });
      const { sessions, sets } = this.#db;
      const judged = kept.sets.filter(hasContent).map(({ pieces, findings, ...set }): SetRow => {
        if (findings !== null) return { ...set, findings };
        return { ...set, findings: judgePieces(kept.row.header, pieces), cutOff: true };
      });
      const empty = kept.sets.filter((set) => !hasContent(set)).map(keyOf);
      return this.#db.transaction('rw', sessions, sets, async () => {
        await sets.bulkPut(judged);
        await sets.bulkDelete(empty);
        await sessions.put({ ...kept.row, finished: true });
        return STORED;
      });
    });
    if (finished.ok) this.#locks.release(sessionId);
    return finished;
  }

  listSessions(): Promise<Stored<SessionListing[]>> {
    return this.#attempt(async () => {
      const recording = await this.#locks.held();
      const rows = await this.#db.sessions.toArray();
      const listings = await Promise.all(rows.map((row) => this.#listing(row, recording)));
      const madeAt = ({ header }: SessionListing): number => Date.parse(header.createdAt);
      return { ok: true, value: listings.sort((a, b) => madeAt(b) - madeAt(a)) };
    });
  }

  async unfinished(): Promise<Stored<SessionListing[]>> {
    const all = await this.listSessions();
    return all.ok ? { ok: true, value: all.value.filter(({ state }) => state === 'unfinished') } : all;
  }

  loadSession(sessionId: string): Promise<Stored<SessionRecord>> {
    return this.#attempt(async (): Promise<Stored<SessionRecord>> => {
      const kept = await this.#read(sessionId);
      if (kept === null) return missing({ sessionId });
      try {
        const reading = readRecordValue(assembleRecord(kept.row.header, kept.sets));
        if (reading.ok) return { ok: true, value: reading.record };
        return failed('unreadable', JSON.stringify(reading.problem));
      } catch (error) {
        // Rows that are not what this code wrote: nothing can be put together from them.
        return failed('unreadable', failureDetail(error));
      }
    });
  }

  async deleteSession(sessionId: string): Promise<Stored<null>> {
    const { sessions, sets, pieces } = this.#db;
    const deleted = await this.#attempt(() =>
      this.#db.transaction('rw', sessions, sets, pieces, async () => {
        await sessions.delete(sessionId);
        await sets
          .where(':id')
          .between(...keysFrom(sessionId))
          .delete();
        await pieces
          .where(':id')
          .between(...keysFrom(sessionId))
          .delete();
        return STORED;
      }),
    );
    if (deleted.ok) this.#locks.release(sessionId);
    return deleted;
  }

  importRecord(record: SessionRecord): Promise<Stored<null>> {
    const { sessions, sets, pieces } = this.#db;
    const sessionId = record.id;
    return this.#attempt(() =>
      this.#db.transaction('rw', sessions, sets, pieces, async () => {
        if ((await sessions.get(sessionId)) !== undefined)
          return failed('already-kept', `Session ${sessionId} is kept already.`);
        await sessions.put({ id: sessionId, header: headerOf(record), finished: true });
        for (const [setIndex, set] of record.sets.entries()) {
          const { startedAt, answers, cutOff, frames } = set;
          const beginning = { startedAt, painBefore: answers.painBefore };
          await sets.put({ sessionId, setIndex, beginning, findings: findingsOf(set), answers, cutOff });
          await pieces.put({ sessionId, setIndex, pieceIndex: 0, frames });
        }
        return STORED;
      }),
    );
  }

  usage(): Promise<Stored<StorageUsage>> {
    return this.#attempt(async () => {
      const { usage, quota } = await navigator.storage.estimate();
      const protectedFromClearing = await navigator.storage.persisted();
      return {
        ok: true,
        value: { usedBytes: usage ?? null, roomBytes: quota ?? null, protectedFromClearing },
      };
    });
  }

  #changeSet(place: SetPlace, change: Partial<SetRow>): Promise<Stored<null>> {
    const { sets } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', sets, async () => {
        const row = await sets.get(keyOf(place));
        if (row === undefined) return missing(place);
        await sets.put({ ...row, ...change });
        return STORED;
      }),
    );
  }

  async #read(sessionId: string): Promise<{ row: SessionRow; sets: (SetRow & KeptSet)[] } | null> {
    const { sessions, sets, pieces } = this.#db;
    return this.#db.transaction('r', sessions, sets, pieces, async () => {
      const row = await sessions.get(sessionId);
      if (row === undefined) return null;
      const setRows = await sets
        .where(':id')
        .between(...keysFrom(sessionId))
        .toArray();
      const whole = setRows.map(async (set) => ({ ...set, pieces: await this.#pieces(set) }));
      return { row, sets: await Promise.all(whole) };
    });
  }

  async #pieces({ sessionId, setIndex }: SetPlace): Promise<FrameSeries[]> {
    const rows = await this.#db.pieces
      .where(':id')
      .between(...keysFrom(sessionId, setIndex))
      .toArray();
    return rows.map(({ frames }) => frames);
  }

  async #listing(row: SessionRow, recording: ReadonlySet<string>): Promise<SessionListing> {
    const sets = await this.#db.sets
      .where(':id')
      .between(...keysFrom(row.id))
      .toArray();
    const open = sets.find(({ findings }) => findings === null);
    const inProgress = recording.has(row.id) ? 'recording' : 'unfinished';
    return {
      header: row.header,
      state: row.finished ? 'finished' : inProgress,
      summary: summariseSession(sets.flatMap(({ findings }) => findings ?? [])),
      cutOffSeconds: open === undefined ? 0 : secondsAcross(await this.#pieces(open)),
    };
  }

  /** Does a piece of work, and does it once more on a fresh connection when the connection was lost. */
  async #attempt<Value>(work: () => PromiseLike<Stored<Value>>): Promise<Stored<Value>> {
    try {
      return await work();
    } catch (error) {
      if (storageProblemOf(error) !== 'lost-connection')
        return failed(storageProblemOf(error), failureDetail(error));
    }
    try {
      this.#db.close({ disableAutoOpen: false });
      await this.#db.open();
      return await work();
    } catch (error) {
      return failed(storageProblemOf(error), failureDetail(error));
    }
  }
}

function keyOf({ sessionId, setIndex }: SetPlace): [string, number] {
  return [sessionId, setIndex];
}

function failed(problem: StorageProblem, detail: string): Stored<never> {
  return { ok: false, problem, detail };
}

function missing(place: Partial<SetPlace>): Stored<never> {
  return failed('missing', `Nothing is kept under ${JSON.stringify(place)}.`);
}
