import { IdbReviewStore } from '../../src/adapters/storage/idb-review-store.ts';
import { IdbStoreCare } from '../../src/adapters/storage/idb-store-care.ts';
import { openSessionStore } from '../../src/adapters/storage/open-session-store.ts';
import { SessionDatabase } from '../../src/adapters/storage/session-database.ts';
import { Dexie } from 'dexie';
import { isSameValue } from '../../src/core/plan/same-value.ts';
import { readReviewValue } from '../../src/core/review/read-review.ts';
import type { ReviewDocument } from '../../src/core/review/review-document.ts';
import { readRecordValue } from '../../src/core/session/migrations.ts';
import { findingsOf, type SessionRecord } from '../../src/core/session/session-record.ts';
import type { KeptFacts } from '../browser/storage/in-page.ts';
import '../browser/storage/in-page.ts';

/*
 * Runs in a real browser: works on the store of the app in ways that are broken off from outside, and tells afterwards what
 * the store holds.
 */

/** What is broken off: taking in records, correcting a review again and again, opening a database of version 2. */
export type FaultWork = 'import' | 'correct' | 'migrate';

/** What tests call in this page. */
export interface FaultPage {
  /** Empties the database and lays out what the work starts from. */
  prepare(work: FaultWork, sample: unknown, review: unknown, count: number): Promise<void>;
  /** Does the work; says every step that the store confirmed. Settles when all is done. */
  work(work: FaultWork, sample: unknown, review: unknown, count: number): Promise<void>;
  /** What is wrong with what is kept, when so many steps were confirmed; none is right. */
  look(work: FaultWork, sample: unknown, confirmed: number, count: number): Promise<string[]>;
  /** Takes the records in and tells how each went. */
  importAll(sample: unknown, count: number): Promise<string[]>;
  /** Records a set of six seconds, in the middle of which the wall clock is set back. */
  recordWithClockSetBack(sessionId: string, hoursBack: number): Promise<KeptFacts>;
}

declare global {
  interface Window {
    faultPage?: FaultPage;
    sayStep?: (step: number) => Promise<void>;
  }
}

const idOf = (index: number): string => `${String(index).padStart(8, '0')}-0000-4000-8000-00000000000f`;

function sampleRecord(sample: unknown): SessionRecord {
  const reading = readRecordValue(sample);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
  return reading.record;
}

/** The review with so many notes. */
function withNotes(review: unknown, sessionId: string, count: number): ReviewDocument {
  const reading = readReviewValue(review);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
  const notes = Array.from({ length: count }, (_, index) => ({
    id: idOf(index),
    place: null,
    text: `Note ${String(index + 1)}`,
    at: reading.review.createdAt,
  }));
  return { ...reading.review, sessionId, notes, signOff: null };
}

async function prepare(work: FaultWork, sample: unknown, _review: unknown, count: number): Promise<void> {
  await Dexie.delete('forearmed');
  const record = sampleRecord(sample);
  if (work === 'correct') {
    const { store } = await openSessionStore();
    await store.importRecord({ ...record, id: idOf(0) });
  }
  if (work !== 'migrate') return;
  const old = new Dexie('forearmed', { chromeTransactionDurability: 'strict' });
  // The tables as version 2 declared them.
  old.version(2).stores({
    sessions: 'id',
    sets: '[sessionId+setIndex]',
    pieces: '[sessionId+setIndex+pieceIndex]',
    plans: '[planId+version]',
    days: 'id, planId',
    decisions: 'id, planId',
    desk: 'key',
  });
  const { sets, ...header } = record;
  for (let index = 0; index < count; index++) {
    const id = idOf(index);
    await old.table('sessions').put({ id, header: { ...header, id }, finished: true });
    for (const [setIndex, set] of sets.entries()) {
      const { startedAt, answers, cutOff, frames } = set;
      const findings = findingsOf(set);
      const beginning = { startedAt, painBefore: answers.painBefore };
      await old.table('sets').put({ sessionId: id, setIndex, beginning, findings, answers, cutOff });
      await old.table('pieces').put({ sessionId: id, setIndex, pieceIndex: 0, frames });
    }
  }
  old.close();
}

async function doWork(work: FaultWork, sample: unknown, review: unknown, count: number): Promise<void> {
  const { store } = await openSessionStore();
  const record = sampleRecord(sample);
  const db = new SessionDatabase();
  for (let index = 0; index < count; index++) {
    if (work === 'import') await expectOk(store.importRecord({ ...record, id: idOf(index) }));
    if (work === 'correct')
      await expectOk(new IdbReviewStore(db).keepReview(withNotes(review, idOf(0), index + 1)));
    if (work === 'migrate') {
      // Every listing is made anew, as after an update.
      await db.listings.clear();
      await expectOk(store.listSessions());
    }
    await window.sayStep?.(index + 1);
  }
}

async function look(work: FaultWork, sample: unknown, confirmed: number, count: number): Promise<string[]> {
  const { store } = await openSessionStore();
  const record = sampleRecord(sample);
  const db = new SessionDatabase();
  const wrong: string[] = [];
  const listed = await store.listSessions();
  if (!listed.ok) return [`not listed: ${listed.problem}`];
  const ids = new Set(listed.value.map(({ id }) => id));
  const must = work === 'import' ? confirmed : work === 'migrate' ? count : 1;
  for (let index = 0; index < must; index++)
    if (!ids.has(idOf(index))) wrong.push(`session ${index} is lost`);
  for (const id of ids) {
    const loaded = await store.loadSession(id);
    if (!loaded.ok) wrong.push(`${id}: ${loaded.problem}`);
    else if (work !== 'migrate' && !isSameValue(loaded.value, { ...record, id }))
      wrong.push(`${id} is not as it was`);
    else if (work === 'migrate' && loaded.value.sets.length !== record.sets.length)
      wrong.push(`${id} has lost sets`);
  }
  if (work === 'correct') {
    const reviews = await new IdbReviewStore(db).reviewsOf(idOf(0));
    if (!reviews.ok || reviews.value.unreadable > 0) wrong.push('the review cannot be read');
    else {
      const notes = reviews.value.items[0]?.notes.length ?? 0;
      if (notes < confirmed || notes > confirmed + 1)
        wrong.push(`${notes} of ${confirmed} corrections are kept`);
    }
  }
  const checked = await new IdbStoreCare(db, store).check(true, {
    onShare: () => undefined,
    isCancelled: () => false,
  });
  if (!checked.ok) wrong.push(`the check failed: ${checked.problem}`);
  else wrong.push(...checked.value.troubles.map(({ table, kind, detail }) => `${table} ${kind}: ${detail}`));
  db.close();
  return wrong;
}

async function importAll(sample: unknown, count: number): Promise<string[]> {
  const { store } = await openSessionStore();
  const record = sampleRecord(sample);
  const outcomes: string[] = [];
  for (let index = 0; index < count; index++) {
    const kept = await store.importRecord({ ...record, id: idOf(index) });
    outcomes.push(kept.ok ? 'added' : kept.problem);
  }
  return outcomes;
}

async function recordWithClockSetBack(sessionId: string, hoursBack: number): Promise<KeptFacts> {
  const [parts, storage] = [window.storageParts, window.storagePage];
  if (!parts || !storage) throw new Error('no page');
  const { store } = await parts.openSessionStore();
  const nowSeconds = (): number => performance.now() / 1000;
  const recorder = new parts.SessionRecorder({ store, header: parts.headerFor(sessionId), nowSeconds });
  recorder.beginSet({ startedAt: new Date().toISOString(), painBefore: 2 });
  const RealDate = Date;
  for (const [index, frame] of parts.film(6).entries()) {
    recorder.addFrame(frame);
    if (index === 90) globalThis.Date = earlier(RealDate, hoursBack * 3_600_000);
  }
  await recorder.finish();
  const kept = await storage.inspect(sessionId);
  globalThis.Date = RealDate;
  return kept;
}

/** A wall clock that goes so far behind the real one. */
function earlier(RealDate: DateConstructor, backMs: number): DateConstructor {
  const now = (): number => RealDate.now() - backMs;
  return new Proxy(RealDate, {
    construct: (_, args: unknown[]) =>
      args.length === 0 ? new RealDate(now()) : Reflect.construct(RealDate, args),
    get: (target, name) => (name === 'now' ? now : Reflect.get(target, name)),
  });
}

async function expectOk(done: Promise<{ ok: boolean }>): Promise<void> {
  if (!(await done).ok) throw new Error('The store refused a step that nothing stands in the way of.');
}

window.faultPage = { prepare, work: doWork, look, importAll, recordWithClockSetBack };
