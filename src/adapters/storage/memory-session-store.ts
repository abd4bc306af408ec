import { assembleRecord, hasContent, type KeptSet } from '../../core/session/assemble-record.ts';
import type { SetNotes } from '../../core/session/cue-log.ts';
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
import { listedFacts } from '../../core/session/session-listing.ts';

interface Kept {
  readonly header: SessionHeader;
  readonly sets: Map<number, KeptSet>;
  finished: boolean;
}

/** Session records for this visit only, where the browser lets the page keep nothing. */
export class MemorySessionStore implements SessionStore {
  readonly lasts = 'this-visit';
  readonly #sessions = new Map<string, Kept>();
  readonly #judge: SetJudge;

  /** judge: who judges a set that has no findings yet, when its record is asked for. */
  constructor(judge: SetJudge = judgeHere) {
    this.#judge = judge;
  }

  beginSession(header: SessionHeader): Promise<Stored<null>> {
    this.#sessions.set(header.id, { header, sets: new Map(), finished: false });
    return Promise.resolve(STORED);
  }

  beginSet({ sessionId, setIndex }: SetPlace, beginning: SetBeginning): Promise<Stored<null>> {
    const set = { beginning, pieces: [], findings: null, answers: null, cutOff: false };
    return this.#with(sessionId, ({ sets }) => void sets.set(setIndex, set));
  }

  appendFrames(place: SetPlace, pieceIndex: number, piece: FrameSeries): Promise<Stored<null>> {
    return this.#change(place, ({ pieces }) => ({ pieces: [...pieces.slice(0, pieceIndex), piece] }));
  }

  finishSet(place: SetPlace, findings: SetFindings): Promise<Stored<null>> {
    return this.#change(place, () => ({ findings }));
  }

  answerSet(place: SetPlace, answers: Answers): Promise<Stored<null>> {
    return this.#change(place, () => ({ answers }));
  }

  noteSet(place: SetPlace, notes: SetNotes): Promise<Stored<null>> {
    return this.#change(place, () => ({ notes }));
  }

  finishSession(sessionId: string): Promise<Stored<null>> {
    return this.#with(sessionId, (kept) => {
      for (const [index, set] of kept.sets) if (!hasContent(set)) kept.sets.delete(index);
      kept.finished = true;
    });
  }

  listSessions(): Promise<Stored<SessionListing[]>> {
    const value = [...this.#sessions.values()].map(({ header, sets, finished }): SessionListing => ({
      ...listedFacts(header, [...sets.values()]),
      state: finished ? 'finished' : 'recording',
      cutOffSeconds: 0,
    }));
    return Promise.resolve({ ok: true, value: value.reverse() });
  }

  async sessionsOfDay(dayId: string): Promise<Stored<SessionListing[]>> {
    const listed = await this.listSessions();
    return listed.ok ? { ok: true, value: listed.value.filter(({ plan }) => plan?.dayId === dayId) } : listed;
  }

  /** Always none: what is kept for the visit ends with the page that records it. */
  unfinished(): Promise<Stored<SessionListing[]>> {
    return Promise.resolve({ ok: true, value: [] });
  }

  async loadSession(sessionId: string): Promise<Stored<SessionRecord>> {
    const found = this.#sessions.get(sessionId);
    if (found === undefined) return missing(sessionId);
    const value = await assembleRecord(found.header, [...found.sets.values()], this.#judge);
    return { ok: true, value };
  }

  deleteSession(sessionId: string): Promise<Stored<null>> {
    this.#sessions.delete(sessionId);
    return Promise.resolve(STORED);
  }

  importRecord(record: SessionRecord): Promise<Stored<null>> {
    if (this.#sessions.has(record.id))
      return Promise.resolve({ ok: false, problem: 'already-kept', detail: record.id });
    return this.#put(record);
  }

  renewRecord(record: SessionRecord): Promise<Stored<null>> {
    const isKept = this.#sessions.get(record.id)?.finished === true;
    return isKept ? this.#put(record) : Promise.resolve({ ok: false, problem: 'missing', detail: record.id });
  }

  #put(record: SessionRecord): Promise<Stored<null>> {
    const sets = record.sets.map((set): KeptSet => {
      const { startedAt, answers, cues, pauses, tile, cutOff, frames } = set;
      const beginning = { startedAt, painBefore: answers.painBefore, tile };
      const notes = { cues, pauses };
      return { beginning, pieces: [frames], findings: findingsOf(set), answers, notes, cutOff };
    });
    this.#sessions.set(record.id, {
      header: headerOf(record),
      sets: new Map(sets.entries()),
      finished: true,
    });
    return Promise.resolve(STORED);
  }

  usage(): Promise<Stored<StorageUsage>> {
    return Promise.resolve({
      ok: true,
      value: { usedBytes: null, roomBytes: null, protectedFromClearing: false },
    });
  }

  async #with(sessionId: string, act: (kept: Kept) => void): Promise<Stored<null>> {
    const kept = this.#sessions.get(sessionId);
    if (kept === undefined) return missing(sessionId);
    act(kept);
    return STORED;
  }

  async #change(
    { sessionId, setIndex }: SetPlace,
    change: (set: KeptSet) => Partial<KeptSet>,
  ): Promise<Stored<null>> {
    const sets = this.#sessions.get(sessionId)?.sets;
    const set = sets?.get(setIndex);
    if (sets === undefined || set === undefined) return missing(sessionId);
    sets.set(setIndex, { ...set, ...change(set) });
    return STORED;
  }
}

function missing(sessionId: string): Stored<never> {
  return { ok: false, problem: 'missing', detail: `No session ${sessionId} in this visit.` };
}
