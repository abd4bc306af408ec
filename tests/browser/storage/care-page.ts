import { Dexie } from 'dexie';
import { packLines, unpackLines } from '../../../src/adapters/backup/backup-file.ts';
import { openSessionStore, type OpenedStore } from '../../../src/adapters/storage/open-session-store.ts';
import { SessionDatabase } from '../../../src/adapters/storage/session-database.ts';
import { endLine, headLine, itemLine, type BackupItem } from '../../../src/core/backup/backup-lines.ts';
import type { Trouble, Watch } from '../../../src/core/backup/store-care.ts';
import { readBackup, takeInBackup, type RestoreReport } from '../../../src/core/backup/take-in-backup.ts';
import { besideOf } from '../../../src/core/exchange/exchange-store.ts';
import { readReviewValue } from '../../../src/core/review/read-review.ts';
import type { ReviewDocument } from '../../../src/core/review/review-document.ts';
import { dayOn, inventedPlan } from '../../helpers/plan-days.ts';
import './in-page.ts';

/*
 * Runs in a real browser: fills the store with one of each kind, packs it, empties it, damages rows, restores, checks, repairs.
 * Backups stay in this page, as the app's do.
 */

export interface CarePage {
  /** One of each kind: a recorded session with a review and a video, a plan with a day and a decision, something beside. */
  fill(sessionId: string, review: unknown): Promise<void>;
  /** What the rows of each table say, as text; of bytes their count and digest. */
  contents(): Promise<Record<string, string[]>>;
  /** Packs everything and keeps the file in this page. */
  backUp(): Promise<void>;
  restore(): Promise<RestoreReport>;
  empty(): Promise<void>;
  /** Writes a row that nobody can read in the place of one of a table. */
  damage(table: 'sessions' | 'plans' | 'days' | 'decisions' | 'reviews'): Promise<void>;
  /** Cuts what stands beside short, and writes a key that is none. */
  damageBesideAndKeys(): Promise<void>;
  /** The lines of the backup as text. */
  backupText(): Promise<string>;
  check(): Promise<readonly Trouble[]>;
  repair(): Promise<number>;
  clearAside(): Promise<void>;
}

declare global {
  interface Window {
    carePage?: CarePage;
  }
}

const WATCH: Watch = { onShare: () => undefined, isCancelled: () => false };
const MOMENT = '2026-03-09T08:00:00+01:00';
const SOFTWARE = { name: 'Forearmed', version: '0.1.0' };
const DAY_ID = '5a0c1d52-6f0b-4a9e-8b3e-2f7d1c9a4e01';
const DECISION_ID = '1c0f5a77-5f5e-4a0d-8a43-0b7f7c9d2e10';
/** What stands in the place of a document that was damaged. */
const DAMAGED = { format: 'nothing that can be read' };

let file: Blob | null = null;

async function fill(sessionId: string, reviewValue: unknown): Promise<void> {
  const opened = await openSessionStore();
  await window.storagePage?.recordFast(sessionId, 3);
  const loaded = await opened.store.loadSession(sessionId);
  if (!loaded.ok) throw new Error(loaded.problem);
  const plan = inventedPlan();
  await opened.plans.keepVersion(plan);
  await opened.plans.follow(plan.id);
  await opened.plans.putDay({ ...dayOn(plan, '03-02'), id: DAY_ID });
  await opened.plans.putDecision({
    id: DECISION_ID,
    planId: plan.id,
    planVersion: plan.version,
    newPlanVersion: null,
    decidedAt: MOMENT,
    direction: 'stay',
    proposal: null,
    reason: 'Invented.',
  });
  const review = { ...reviewOf(reviewValue), sessionId };
  await (await opened.reviews()).keepReview(review);
  const videos = await videosOf(opened);
  await videos.beginVideo({ sessionId, setIndex: 0 }, { mimeType: 'video/webm', startSeconds: 0.25 });
  // Two chunks, the first longer than a line of a backup.
  for (const [index, size] of [3_500_000, 1000].entries()) {
    const bytes = Uint8Array.from({ length: size }, (_, at) => (at * at * 31 + index) & 0xff);
    await videos.appendChunk({ sessionId, setIndex: 0 }, index, bytes.buffer);
  }
  await videos.endVideo({ sessionId, setIndex: 0 });
  const other = { ...loaded.value, createdAt: '2026-01-01T08:00:00.000+01:00' };
  const beside = await besideOf({ kind: 'record', record: other }, 'invented.age', MOMENT);
  await (await opened.exchange()).keepBeside(beside);
}

function reviewOf(value: unknown): ReviewDocument {
  const reading = readReviewValue(value);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
  return reading.review;
}

async function videosOf(opened: OpenedStore): ReturnType<NonNullable<OpenedStore['videos']>> {
  if (opened.videos === null) throw new Error('Nothing lasts here.');
  return opened.videos();
}

async function contents(): Promise<Record<string, string[]>> {
  const db = new SessionDatabase();
  const rows: Record<string, string[]> = {};
  for (const table of db.tables) {
    const all: unknown[] = await table.toArray();
    rows[table.name] = await Promise.all(all.map(said));
  }
  // Restoring writes the video and the frames in pieces of its own: only all of them together say something.
  const joined = await db.videoChunks.toArray();
  rows['videoChunks'] = [await digest(new Blob(joined.map(({ bytes }) => bytes)))];
  delete rows['pieces'];
  delete rows['sets'];
  const { store } = await openSessionStore();
  const records = await Promise.all(
    (await db.sessions.toCollection().primaryKeys()).map((id) => store.loadSession(id)),
  );
  rows['records'] = await Promise.all(
    records.map(async (loaded) =>
      loaded.ok ? digest(new Blob([await said(loaded.value)])) : loaded.problem,
    ),
  );
  db.close();
  return rows;
}

/** A row as text, its names in order; a Blob in it as its digest. */
async function said(row: unknown): Promise<string> {
  const content = typeof row === 'object' && row !== null && 'content' in row ? row.content : null;
  const blob = content instanceof Blob ? await digest(content) : '';
  const text = JSON.stringify(row, (_, value: unknown) =>
    typeof value === 'object' && value !== null && !Array.isArray(value) && !(value instanceof Blob)
      ? Object.fromEntries(Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1)))
      : value,
  );
  return text + blob;
}

async function digest(blob: Blob): Promise<string> {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', await blob.arrayBuffer()));
  return `${blob.size} bytes ${hash.join()}`;
}

async function backUp(): Promise<void> {
  const care = await careOf();
  const lines = async function* (): AsyncGenerator<string> {
    const counts: Partial<Record<BackupItem['kind'], number>> = {};
    yield headLine(MOMENT, SOFTWARE);
    for await (const item of care.items(true)) {
      counts[item.kind] = (counts[item.kind] ?? 0) + 1;
      yield itemLine(item);
    }
    yield endLine(counts);
  };
  file = await packLines(lines());
}

async function careOf(): ReturnType<NonNullable<OpenedStore['care']>> {
  const { care } = await openSessionStore();
  if (care === null) throw new Error('Nothing lasts here.');
  return care();
}

async function restore(): Promise<RestoreReport> {
  if (file === null) throw new Error('There is no backup.');
  const read = await readBackup(unpackLines(file), WATCH);
  if (!read.ok) throw new Error(JSON.stringify(read.problem));
  const opened = await openSessionStore();
  const care = await careOf();
  const targets = {
    sessions: opened.store,
    plans: opened.plans,
    reviews: await opened.reviews(),
    videos: await videosOf(opened),
    exchange: await opened.exchange(),
    takeKey: async () => ({ ok: true, value: 'locked' }) as const,
    takePreferences: () => 'left' as const,
    setAside: (id: string, value: Parameters<typeof care.setAside>[1]) => care.setAside(id, value, MOMENT),
    setSessionAside: (key: string) =>
      care.repair([{ table: 'sessions', key, kind: 'unreadable', detail: '' }], MOMENT, WATCH),
  };
  return takeInBackup(unpackLines(file), { content: read.content, targets, watch: WATCH });
}

async function damage(table: Parameters<CarePage['damage']>[0]): Promise<void> {
  const db = new SessionDatabase();
  const field = { sessions: 'header', plans: 'plan', days: 'day', decisions: 'decision', reviews: 'review' }[
    table
  ];
  const rows: Record<string, unknown>[] = await db.table(table).toArray();
  for (const row of rows) await db.table(table).put({ ...row, [field]: DAMAGED });
  if (table === 'sessions') await db.listings.clear();
  db.close();
}

async function damageBesideAndKeys(): Promise<void> {
  const db = new SessionDatabase();
  const rows = await db.beside.toArray();
  for (const row of rows) await db.beside.put({ ...row, content: row.content.slice(0, 100) });
  await db.keys.put({ name: 'key-pair:age1', value: { secretKey: 'AGE-SECRET-KEY-1BROKEN' } });
  await db.keys.put({ name: 'of a newer version', value: 1 });
  db.close();
}

async function backupText(): Promise<string> {
  let text = '';
  if (file !== null) for await (const line of unpackLines(file)) text += `${line}\n`;
  return text;
}

async function check(): Promise<readonly Trouble[]> {
  const found = await (await careOf()).check(true, WATCH);
  if (!found.ok) throw new Error(found.problem);
  return found.value.troubles;
}

async function repair(): Promise<number> {
  const done = await (await careOf()).repair(await check(), MOMENT, WATCH);
  if (!done.ok) throw new Error(done.problem);
  return done.value;
}

window.carePage = {
  fill,
  contents,
  backUp,
  restore,
  empty: () => Dexie.delete('forearmed'),
  damage,
  damageBesideAndKeys,
  backupText,
  check,
  repair,
  clearAside: async () => void (await (await careOf()).clearAside()),
};
