import type { BackupItem } from '../../core/backup/backup-lines.ts';
import { base64Of } from '../../core/documents/base64.ts';
import { readReviewValue } from '../../core/review/read-review.ts';
import type { SessionStore } from '../../core/session/session-store.ts';
import { keptVideoSchema } from '../../core/session/video-store.ts';
import { besideAsPlain, besideHead } from './beside-rows.ts';
import { deletedIds } from './deleted-sessions.ts';
import { readKeptDay, readKeptDecision, readKeptPlan } from './kept-plans.ts';
import { keysFrom, type SessionDatabase } from './session-database.ts';

/** Bytes in one line, before base64. */
const LINE_BYTES = 3_000_000;

/**
 * Everything that is kept, one at a time, so that no more than one session stands in memory. What cannot be read goes along
 * as it is; what only waits to be swept does not, nor do keys, which are never written openly. Rejects when the database
 * fails: a backup with a hole in it is none.
 */
export async function* backupItems(
  db: SessionDatabase,
  sessions: SessionStore,
  withVideos: boolean,
): AsyncGenerator<BackupItem> {
  yield* documents(db);
  for (const id of await db.sessions.toCollection().primaryKeys()) {
    const loaded = await sessions.loadSession(id);
    if (loaded.ok) yield { kind: 'record', value: loaded.value };
    else if (loaded.problem === 'unreadable') yield await rawSession(db, id);
    else if (loaded.problem !== 'missing') throw new Error(loaded.detail);
  }
  yield* besideItems(db, withVideos);
  if (withVideos) yield* videoItems(db);
}

async function* documents(db: SessionDatabase): AsyncGenerator<BackupItem> {
  for (const row of await db.plans.toArray()) {
    const plan = readKeptPlan(row.plan);
    yield plan ? { kind: 'plan', value: plan } : asIs('plans', [row.planId, row.version], row);
  }
  for (const row of await db.days.toArray()) {
    const day = readKeptDay(row.day);
    yield day ? { kind: 'day', value: day } : asIs('days', row.id, row);
  }
  for (const row of await db.decisions.toArray()) {
    const decision = readKeptDecision(row.decision);
    yield decision ? { kind: 'decision', value: decision } : asIs('decisions', row.id, row);
  }
  const deleted = new Set(await deletedIds(db));
  for (const row of await db.reviews.toArray()) {
    if (deleted.has(row.sessionId)) continue;
    const reading = readReviewValue(row.review);
    yield reading.ok ? { kind: 'review', value: reading.review } : asIs('reviews', row.id, row);
  }
  for (const { key, value } of await db.desk.toArray()) {
    if (key === 'followed' && typeof value === 'string') yield { kind: 'followed', value };
    const draft = key === 'draft' ? readKeptPlan(value) : null;
    if (draft !== null) yield { kind: 'draft', value: draft };
  }
  // A key that cannot be read may hold its secret all the same, and no secret stands in a backup openly.
  for (const { table, key, value } of await db.aside.toArray())
    if (table !== 'keys') yield asIs(table, key, value);
}

async function rawSession(db: SessionDatabase, id: string): Promise<BackupItem> {
  const session = await db.sessions.get(id);
  const [sets, pieces] = await Promise.all(
    [db.sets, db.pieces].map((table) =>
      table
        .where(':id')
        .between(...keysFrom(id))
        .toArray(),
    ),
  );
  return asIs('sessions', id, { session, sets, pieces });
}

async function* videoItems(db: SessionDatabase): AsyncGenerator<BackupItem> {
  const deleted = new Set(await deletedIds(db));
  for (const key of await db.videos.toCollection().primaryKeys()) {
    if (deleted.has(key[0])) continue;
    const row = await db.videos.get(key);
    const { data: video } = keptVideoSchema.safeParse(row);
    if (video === undefined) {
      yield asIs('videos', key, row);
      continue;
    }
    yield { kind: 'video', value: video };
    const chunks = await db.videoChunks
      .where(':id')
      .between(...keysFrom(...key))
      .primaryKeys();
    for (const chunkKey of chunks) {
      const bytes = new Uint8Array((await db.videoChunks.get(chunkKey))?.bytes ?? new ArrayBuffer());
      for (let from = 0; from < bytes.length; from += LINE_BYTES)
        yield { kind: 'video-bytes', value: base64Of(bytes.subarray(from, from + LINE_BYTES)) };
    }
  }
}

async function* besideItems(db: SessionDatabase, withVideos: boolean): AsyncGenerator<BackupItem> {
  for (const key of await db.beside.toCollection().primaryKeys()) {
    const row = await db.beside.get(key);
    if (row === undefined) continue;
    const { content } = row;
    const head = besideHead(row);
    if (head === null) {
      yield asIs('beside', key, await besideAsPlain(row));
      continue;
    }
    if (head.entry.kind === 'video' && !withVideos) continue;
    yield { kind: 'beside', value: head };
    for (let from = 0; from < content.size; from += LINE_BYTES) {
      const bytes = await content.slice(from, from + LINE_BYTES).arrayBuffer();
      yield { kind: 'beside-bytes', value: base64Of(new Uint8Array(bytes)) };
    }
  }
}

function asIs(table: string, key: unknown, value: unknown): BackupItem {
  return { kind: 'aside', value: { table, key, value } };
}
