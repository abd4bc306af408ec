import { openSessionStore } from '../../../src/adapters/storage/open-session-store.ts';
import { SessionDatabase } from '../../../src/adapters/storage/session-database.ts';
import { FACTS_VERSION, listedFacts } from '../../../src/core/session/session-listing.ts';
import { cutSeries } from '../../../src/core/session/frame-pieces.ts';
import { readRecordValue } from '../../../src/core/session/migrations.ts';
import type { FrameSeries } from '../../../src/core/session/quantised-frames.ts';
import { findingsOf, headerOf, type SessionRecord } from '../../../src/core/session/session-record.ts';

/*
 * Runs in a real browser: fills the store of the app with many made sessions. Rows are put by the hundred, which is faster
 * than the app's own way; the first of them is also taken in by the app's own way, to show that the rows are the same.
 */

/** What filling gives. */
interface Filled {
  readonly sessions: number;
  /** True when the app's own way wrote just the rows that were put. */
  readonly rowsAreSame: boolean;
}

declare global {
  interface Window {
    fillMany?: (sample: unknown, count: number) => Promise<Filled>;
  }
}

const AT_ONCE = 250;
const SET_FRAMES = 120;
const DAY_MS = 86_400_000;
const FIRST_MS = Date.UTC(2019, 0, 1, 18);

function madeRecord(sample: SessionRecord, index: number): SessionRecord {
  const createdAt = new Date(FIRST_MS + index * (DAY_MS / 4)).toISOString().replace('Z', '+00:00');
  const id = `${String(index).padStart(8, '0')}-0000-4000-8000-000000000000`;
  const side = index % 3 === 0 ? 'right' : 'left';
  const exercises = ['body-curl', 'free-curl', 'band-curl'] as const;
  const exercise = exercises[index % exercises.length] ?? 'body-curl';
  // One set of a few seconds: what a list costs does not depend on the frames, and many of them fill the disk only.
  const sets = sample.sets.slice(0, 1).map((set) => ({ ...set, frames: firstFrames(set.frames) }));
  return { ...sample, id, createdAt, settings: { ...sample.settings, side, exercise }, plan: null, sets };
}

function firstFrames(frames: FrameSeries): FrameSeries {
  const [first] = cutSeries(frames, SET_FRAMES);
  if (first === undefined) throw new Error('The sample has no frames.');
  return first;
}

function rowsOf(record: SessionRecord) {
  const sessionId = record.id;
  const header = headerOf(record);
  const sets = record.sets.map((set, setIndex) => ({
    sessionId,
    setIndex,
    beginning: { startedAt: set.startedAt, painBefore: set.answers.painBefore },
    findings: findingsOf(set),
    answers: set.answers,
    notes: { cues: set.cues, pauses: set.pauses },
    cutOff: set.cutOff,
  }));
  return {
    session: { id: sessionId, header, finished: true },
    sets,
    pieces: record.sets.map(({ frames }, setIndex) => ({ sessionId, setIndex, pieceIndex: 0, frames })),
    listing: {
      id: sessionId,
      dayId: header.plan?.dayId ?? '',
      factsVersion: FACTS_VERSION,
      facts: listedFacts(header, sets),
    },
  };
}

window.fillMany = async (sample, count) => {
  const reading = readRecordValue(sample);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
  const { store } = await openSessionStore();
  const db = new SessionDatabase();
  const { sessions, sets, pieces, listings } = db;
  const first = madeRecord(reading.record, 0);
  await store.importRecord(first);
  const kept = {
    session: await sessions.get(first.id),
    sets: await sets.toArray(),
    pieces: await pieces.toArray(),
    listing: await listings.get(first.id),
  };
  const rowsAreSame = JSON.stringify(kept) === JSON.stringify(rowsOf(first));
  for (let from = 1; from < count; from += AT_ONCE) {
    const some = Array.from({ length: Math.min(AT_ONCE, count - from) }, (_, index) =>
      rowsOf(madeRecord(reading.record, from + index)),
    );
    await db.transaction('rw', sessions, sets, pieces, listings, async () => {
      await sessions.bulkPut(some.map(({ session }) => session));
      await sets.bulkPut(some.flatMap((rows) => rows.sets));
      await pieces.bulkPut(some.flatMap((rows) => rows.pieces));
      await listings.bulkPut(some.map(({ listing }) => listing));
    });
  }
  return { sessions: await sessions.count(), rowsAreSame };
};
