import { IdbStoreCare } from '../../src/adapters/storage/idb-store-care.ts';
import { openSessionStore } from '../../src/adapters/storage/open-session-store.ts';
import { SessionDatabase } from '../../src/adapters/storage/session-database.ts';
import { Dexie } from 'dexie';
import { takeItem } from '../../src/core/exchange/take-item.ts';
import { isSameValue } from '../../src/core/plan/same-value.ts';
import { readReviewValue } from '../../src/core/review/read-review.ts';
import type { ReviewDocument } from '../../src/core/review/review-document.ts';
import { readRecordValue } from '../../src/core/session/migrations.ts';
import { listedFacts } from '../../src/core/session/session-listing.ts';
import { findingsOf, headerOf, type SessionRecord } from '../../src/core/session/session-record.ts';
import type { SessionListing } from '../../src/core/session/session-store.ts';
import type { KeptFacts } from '../browser/storage/in-page.ts';
import '../browser/storage/in-page.ts';

/*
 * Runs in a real browser: works on the store of the app in ways that are broken off from outside, and tells afterwards what
 * the store holds.
 */

/**
 * What is broken off: taking in records with their reviews as out of packages, correcting in a review again and again, opening
 * a database of version 2 and listing it anew. None of them ends by itself.
 */
export type FaultWork = 'import' | 'correct' | 'migrate';

/** What tests call in this page. */
export interface FaultPage {
  /** Empties the database and lays out what the work starts from. */
  prepare(work: FaultWork, sample: unknown): Promise<void>;
  /** Does the work until the page ends; says every step that the store confirmed. */
  work(work: FaultWork, sample: unknown, review: unknown): Promise<void>;
  /** What is wrong with what is kept and listed, when so many steps were confirmed; none is right. records: only they came. */
  look(work: FaultWork | 'records', sample: unknown, review: unknown, confirmed: number): Promise<string[]>;
  /** Whether two tabs that correct one review at once leave it as one of them wrote it last. */
  correctAll(review: unknown, who: number, count: number): Promise<string[]>;
  /** Corrects the first session until the store refuses; what is wrong with what is kept then, and with the refusal. */
  correctUntilFull(review: unknown): Promise<string[]>;
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

/** Sessions that a database of version 2 starts with. */
const OLD_SESSIONS = 40;
/** Corrections that a review grows to before it is begun again; far fewer than its gate lets through. */
const MOST_CORRECTIONS = 100;

/** The review of a session after so many steps of correcting: each adds one, and every other is withdrawn again. */
function corrected(review: unknown, sessionId: string, steps: number): ReviewDocument {
  const reading = readReviewValue(review);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
  const [correction] = reading.review.corrections;
  if (correction === undefined) throw new Error('The sample corrects nothing.');
  const at = reading.review.createdAt;
  const corrections = Array.from({ length: steps % MOST_CORRECTIONS }, (_, index) => ({
    ...correction,
    id: idOf(index),
    reason: `Step ${String(steps)}`,
    withdrawnAt: index % 2 === 0 ? null : at,
  }));
  return { ...reading.review, id: sessionId, sessionId, corrections, signOff: null };
}

async function prepare(work: FaultWork, sample: unknown): Promise<void> {
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
  for (let index = 0; index < OLD_SESSIONS; index++) {
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

async function doWork(work: FaultWork, sample: unknown, review: unknown): Promise<void> {
  const { store, plans, reviews: openReviews, exchange: openExchange } = await openSessionStore();
  const [reviews, exchange] = [await openReviews(), await openExchange()];
  const stores = { sessions: store, plans, reviews, videos: null, exchange };
  const record = sampleRecord(sample);
  const arrival = {
    fileName: 'invented.age',
    cameAt: record.createdAt,
    newestBefore: new Map<string, number>(),
  };
  const db = new SessionDatabase();
  for (let index = 0; ; index++) {
    const id = idOf(index);
    if (work === 'import') {
      await expectOk(takeItem({ kind: 'record', record: { ...record, id } }, arrival, stores));
      await expectOk(takeItem({ kind: 'review', review: corrected(review, id, 1) }, arrival, stores));
    }
    if (work === 'correct') await expectOk(reviews.keepReview(corrected(review, idOf(0), index + 1)));
    if (work === 'migrate') {
      // Every listing is made anew, as after an update.
      await db.listings.clear();
      await expectOk(store.listSessions());
    }
    await window.sayStep?.(index + 1);
  }
}

async function look(
  work: FaultWork | 'records',
  sample: unknown,
  review: unknown,
  confirmed: number,
): Promise<string[]> {
  const { store, reviews: openReviews } = await openSessionStore();
  const record = sampleRecord(sample);
  const db = new SessionDatabase();
  const wrong: string[] = [];
  const listed = await store.listSessions();
  if (!listed.ok) return [`not listed: ${listed.problem}`];
  const byId = new Map(listed.value.map((listing) => [listing.id, listing]));
  const must = { import: confirmed, records: confirmed, migrate: OLD_SESSIONS, correct: 1 }[work];
  for (let index = 0; index < must; index++)
    if (!byId.has(idOf(index))) wrong.push(`session ${index} is lost`);
  // Old rows have no notes of cues and pauses, and no tile.
  const sets = record.sets.map((set) =>
    work === 'migrate' ? { ...set, cues: [], pauses: [], tile: null } : set,
  );
  for (const [id, listing] of byId) {
    const loaded = await store.loadSession(id);
    if (!loaded.ok) wrong.push(`${id}: ${loaded.problem}`);
    else if (!isSameValue(loaded.value, { ...record, id, sets })) wrong.push(`${id} is not as it was`);
    else if (!isSameValue(listing, listingOf(loaded.value)))
      wrong.push(`the list says of ${id} what its record does not`);
  }
  const reviews = await openReviews();
  if (work === 'import')
    for (let index = 0; index < byId.size; index++) {
      const kept = await reviews.reviewsOf(idOf(index));
      const [only] = kept.ok ? kept.value.items : [];
      if (only === undefined ? index < confirmed : !isSameValue(only, corrected(review, idOf(index), 1)))
        wrong.push(`the review of session ${index} is lost or not as it came`);
    }
  if (work === 'correct') {
    const kept = await reviews.reviewsOf(idOf(0));
    const items = kept.ok && kept.value.unreadable === 0 ? kept.value.items : [];
    // The step that was confirmed, or the next one: nothing else was ever written.
    const may = [confirmed, confirmed + 1].map((steps) => corrected(review, idOf(0), steps));
    const isRight = items.length === 1 && may.some((it) => isSameValue(it, items[0]));
    if (!isRight && (confirmed > 0 || items.length > 0))
      wrong.push(`corrections of step ${confirmed} are not kept`);
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

/** What a list may say of a finished session, worked out from its record alone. */
function listingOf(record: SessionRecord): SessionListing {
  const sets = record.sets.map((set) => ({
    beginning: { painBefore: set.answers.painBefore },
    findings: findingsOf(set),
    answers: set.answers,
  }));
  return { ...listedFacts(headerOf(record), sets), state: 'finished', cutOffSeconds: 0 };
}

async function correctAll(review: unknown, who: number, count: number): Promise<string[]> {
  const reviews = await (await openSessionStore()).reviews();
  const wrong: string[] = [];
  for (let index = 0; index < count; index++) {
    const mine = corrected(review, idOf(0), 2 * index + who);
    if (!(await reviews.keepReview(mine)).ok) wrong.push(`step ${index} was refused`);
    const kept = await reviews.reviewsOf(idOf(0));
    const [only, ...more] = kept.ok ? kept.value.items : [];
    // Whatever stands there was written whole by one of the two.
    const steps = Number(only?.corrections[0]?.reason.replace('Step ', '') ?? NaN);
    if (only === undefined || more.length > 0) wrong.push('there is not one review');
    else if (only.corrections.length > 0 && !isSameValue(only, corrected(review, idOf(0), steps)))
      wrong.push('it is mixed of both');
  }
  return wrong;
}

async function correctUntilFull(review: unknown): Promise<string[]> {
  const reviews = await (await openSessionStore()).reviews();
  for (let steps = 1; steps < MOST_CORRECTIONS; steps++) {
    const stored = await reviews.keepReview(corrected(review, idOf(0), steps));
    if (stored.ok) continue;
    const kept = await reviews.reviewsOf(idOf(0));
    const items = kept.ok ? kept.value.items : [];
    // The step before stands as it was; before the first there is none.
    const stands =
      steps === 1 ? items.length === 0 : isSameValue(items[0], corrected(review, idOf(0), steps - 1));
    return [
      ...(stored.problem === 'full' ? [] : [`refused as ${stored.problem}`]),
      ...(stands ? [] : [`step ${String(steps - 1)} is not kept`]),
    ];
  }
  return ['it never was full'];
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

async function expectOk(done: PromiseLike<{ readonly ok: boolean }>): Promise<void> {
  if (!(await done).ok) throw new Error('The store refused a step that nothing stands in the way of.');
}

window.faultPage = {
  prepare,
  work: doWork,
  look,
  importAll,
  correctUntilFull,
  correctAll,
  recordWithClockSetBack,
};
