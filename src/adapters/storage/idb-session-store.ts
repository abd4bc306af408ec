import { assembleRecord, hasContent, type KeptSet } from '../../core/session/assemble-record.ts';
import { NO_NOTES, type SetNotes } from '../../core/session/cue-log.ts';
import { withoutPauses } from '../../core/session/measured-time.ts';
import { readRecordValue } from '../../core/session/migrations.ts';
import type { FrameSeries } from '../../core/session/quantised-frames.ts';
import {
  findingsOf,
  headerOf,
  type Answers,
  type SessionHeader,
  type SessionRecord,
  type SetFindings,
} from '../../core/session/session-record.ts';
import {
  type SessionListing,
  type SessionStore,
  type SetBeginning,
  type SetPlace,
  type StorageUsage,
} from '../../core/session/session-store.ts';
import { STORED, type Stored } from '../../core/stored.ts';
import { judgeHere, type SetJudge } from '../../core/session/set-judge.ts';
import { failed, onDatabase } from './on-database.ts';
import { keysFrom, type SessionDatabase, type SessionRow, type SetRow } from './session-database.ts';
import { SessionLocks } from './session-locks.ts';
import { listings, relist, unfinishedListings } from './session-listings.ts';
import { piecesOf, setsOf } from './session-rows.ts';
import { failureDetail } from './storage-failure.ts';

/** Session records in the browser's database, written step by step while recording. */
export class IdbSessionStore implements SessionStore {
  readonly lasts = 'on-this-machine';
  readonly #db: SessionDatabase;
  readonly #judge: SetJudge;
  readonly #locks = new SessionLocks('recording');
  readonly #deleted = new SessionLocks('deleted');

  /** judge: who judges a set that broke off, when its session is finished. */
  constructor(db: SessionDatabase, judge: SetJudge = judgeHere) {
    this.#db = db;
    this.#judge = judge;
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

  noteSet(place: SetPlace, notes: SetNotes): Promise<Stored<null>> {
    return this.#changeSet(place, { notes });
  }

  async finishSession(sessionId: string): Promise<Stored<null>> {
    const finished = await this.#attempt(async () => {
      const { sessions, sets, listings: listed } = this.#db;
      const row = await sessions.get(sessionId);
      if (row === undefined) return missing({ sessionId });
      const judged: SetRow[] = [];
      const empty: [string, number][] = [];
      for (const set of await setsOf(this.#db, sessionId)) {
        if (set.findings !== null) continue;
        const pieces = await piecesOf(this.#db, set);
        if (hasContent({ pieces, findings: null })) {
          const { settings, thresholds, estimator } = row.header;
          const found = await this.#judge.judge(pieces, settings, thresholds, estimator.model);
          const findings = withoutPauses(found, (set.notes ?? NO_NOTES).pauses);
          judged.push({ ...set, findings, cutOff: true });
        } else empty.push(keyOf(set));
      }
      return this.#db.transaction('rw', sessions, sets, listed, async () => {
        await sets.bulkPut(judged);
        await sets.bulkDelete(empty);
        await sessions.put({ ...row, finished: true });
        await relist(this.#db, sessionId);
        return STORED;
      });
    });
    if (finished.ok) this.#locks.release(sessionId);
    return finished;
  }

  listSessions(
    ...[onProgress, isWanted]: Parameters<SessionStore['listSessions']>
  ): Promise<Stored<SessionListing[]>> {
    return this.#attempt(async () => ({
      ok: true,
      value: await listings(this.#db, await this.#locks.held(), { onProgress, isWanted }),
    }));
  }

  sessionsOfDay(dayId: string): Promise<Stored<SessionListing[]>> {
    return this.#attempt(async () => ({
      ok: true,
      value: await listings(this.#db, await this.#locks.held(), { dayId }),
    }));
  }

  unfinished(): Promise<Stored<SessionListing[]>> {
    return this.#attempt(async () => ({
      ok: true,
      value: await unfinishedListings(this.#db, await this.#locks.held()),
    }));
  }

  loadSession(sessionId: string): Promise<Stored<SessionRecord>> {
    return this.#attempt(async (): Promise<Stored<SessionRecord>> => {
      const kept = await this.#read(sessionId);
      if (kept === null) return missing({ sessionId });
      try {
        const reading = readRecordValue(await assembleRecord(kept.row.header, kept.sets, this.#judge));
        if (reading.ok) return { ok: true, value: reading.record };
        return failed('unreadable', JSON.stringify(reading.problem));
      } catch (error) {
        // Rows that are not what this code wrote: nothing can be put together from them.
        return failed('unreadable', failureDetail(error));
      }
    });
  }

  async deleteSession(sessionId: string): Promise<Stored<null>> {
    const { sessions, sets, pieces, listings: listed, desk } = this.#db;
    // Held before it is noted: a visit that begins meanwhile leaves the session's videos and reviews alone.
    await this.#deleted.hold(sessionId);
    const deleted = await this.#attempt(async () => {
      // Loaded with its first use, and before the transaction, which waits for nothing else.
      const { noteDeleted } = await import('./deleted-sessions.ts');
      return this.#db.transaction('rw', [sessions, sets, pieces, listed, desk], async () => {
        await noteDeleted(this.#db, sessionId);
        await sessions.delete(sessionId);
        await listed.delete(sessionId);
        await sets
          .where(':id')
          .between(...keysFrom(sessionId))
          .delete();
        await pieces
          .where(':id')
          .between(...keysFrom(sessionId))
          .delete();
        return STORED;
      });
    });
    if (deleted.ok) this.#locks.release(sessionId);
    return deleted;
  }

  importRecord(record: SessionRecord): Promise<Stored<null>> {
    return this.#putRecord(record, (row) =>
      row === undefined ? STORED : failed('already-kept', `Session ${record.id} is kept already.`),
    );
  }

  renewRecord(record: SessionRecord): Promise<Stored<null>> {
    return this.#putRecord(record, (row) =>
      row?.finished === true ? STORED : missing({ sessionId: record.id }),
    );
  }

  /** Puts a whole record in the place of what is kept under its name, where that may be so. */
  #putRecord(
    record: SessionRecord,
    mayBe: (kept: SessionRow | undefined) => Stored<null>,
  ): Promise<Stored<null>> {
    const { sessions, sets, pieces, listings: listed } = this.#db;
    const sessionId = record.id;
    return this.#attempt(() =>
      this.#db.transaction('rw', sessions, sets, pieces, listed, async () => {
        const allowed = mayBe(await sessions.get(sessionId));
        if (!allowed.ok) return allowed;
        for (const table of [sets, pieces])
          await table
            .where(':id')
            .between(...keysFrom(sessionId))
            .delete();
        await sessions.put({ id: sessionId, header: headerOf(record), finished: true });
        for (const [setIndex, set] of record.sets.entries()) {
          const { startedAt, answers, cues, pauses, tile, cutOff, frames } = set;
          const beginning = { startedAt, painBefore: answers.painBefore, tile };
          const notes = { cues, pauses };
          await sets.put({
            sessionId,
            setIndex,
            beginning,
            findings: findingsOf(set),
            answers,
            notes,
            cutOff,
          });
          await pieces.put({ sessionId, setIndex, pieceIndex: 0, frames });
        }
        await relist(this.#db, sessionId);
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
    const { sessions, sets, listings: listed } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', sessions, sets, listed, async () => {
        const row = await sets.get(keyOf(place));
        if (row === undefined) return missing(place);
        await sets.put({ ...row, ...change });
        await relist(this.#db, place.sessionId);
        return STORED;
      }),
    );
  }

  async #read(sessionId: string): Promise<{ row: SessionRow; sets: (SetRow & KeptSet)[] } | null> {
    const { sessions, sets, pieces } = this.#db;
    return this.#db.transaction('r', sessions, sets, pieces, async () => {
      const row = await sessions.get(sessionId);
      if (row === undefined) return null;
      const setRows = await setsOf(this.#db, sessionId);
      const whole = setRows.map(async (set) => ({ ...set, pieces: await piecesOf(this.#db, set) }));
      return { row, sets: await Promise.all(whole) };
    });
  }

  #attempt<Value>(work: () => PromiseLike<Stored<Value>>): Promise<Stored<Value>> {
    return onDatabase(this.#db, work);
  }
}

function keyOf({ sessionId, setIndex }: SetPlace): [string, number] {
  return [sessionId, setIndex];
}

function missing(place: Partial<SetPlace>): Stored<never> {
  return failed('missing', `Nothing is kept under ${JSON.stringify(place)}.`);
}
