import { measuredHandShares } from '../loads/measured-body-curl.ts';
import { judgeParts, recomputeSet, type JudgedSet } from '../session/build-session.ts';
import { measuredSetOf } from '../session/measured-set.ts';
import { outlineOf, type OpenedRecord, type RecordOpener } from '../session/record-opener.ts';
import { findingsOf, type RecordedSet, type SessionRecord } from '../session/session-record.ts';
import type { SessionStore } from '../session/session-store.ts';
import { framesCsv } from './frames-csv.ts';

/** A record that is worked on by the thread that asks. */
export function openedHere(record: SessionRecord): OpenedRecord {
  /** The set of which parts were judged last: whoever corrects one repetition of a set often corrects another. */
  let last: { readonly setIndex: number; readonly judged: JudgedSet } | null = null;
  return {
    outline: outlineOf(record),
    judgeParts: async (setIndex, parts) => {
      if (last?.setIndex !== setIndex) last = { setIndex, judged: recomputeSet(record, setIndex) };
      return judgeParts(record, last.judged, parts);
    },
    measure: async (setIndex, onShare) => {
      const { exercise, side } = record.settings;
      const judged = recomputeSet(record, setIndex, onShare);
      const { repetitions } = judged.findings.judgement;
      const shares = exercise === 'body-curl' ? measuredHandShares(judged.series.frames, repetitions) : [];
      return measuredSetOf(judged, findingsOf(setAt(record, setIndex)), side, shares);
    },
    recordFile: async () => new Blob([JSON.stringify(record)], { type: 'application/json' }),
    framesFile: async () => {
      const sets = record.sets.map((_, index) => ({ ...recomputeSet(record, index), setNumber: index + 1 }));
      return new Blob([framesCsv(sets)], { type: 'text/csv' });
    },
    close: () => {
      last = null;
    },
  };
}

function setAt({ sets }: SessionRecord, setIndex: number): RecordedSet {
  const set = sets[setIndex];
  if (set === undefined) throw new Error(`openedHere: the record has no set ${setIndex}.`);
  return set;
}

/** Opens the records of a store for the thread that asks. */
export function recordsHere(store: SessionStore): RecordOpener {
  return {
    open: async (sessionId) => {
      const loaded = await store.loadSession(sessionId);
      return loaded.ok ? { ok: true, value: openedHere(loaded.value) } : loaded;
    },
  };
}
