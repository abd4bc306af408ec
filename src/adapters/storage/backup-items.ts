import type { BackupItem } from '../../core/backup/backup-lines.ts';
import { decisionSchema } from '../../core/plan/decision.ts';
import { readReviewValue } from '../../core/review/read-review.ts';
import type { SessionStore } from '../../core/session/session-store.ts';
import { keptVideoSchema } from '../../core/session/video-store.ts';
import { readKeptDay, readKeptPlan } from './kept-plans.ts';
import { keysFrom, type SessionDatabase } from './session-database.ts';

/** Bytes of a video in one line, before base64. */
const VIDEO_LINE_BYTES = 3_000_000;

/**
 * Everything that is kept, one at a time, so that no more than one session stands in memory. What cannot be read goes along
 * as it is. Rejects when the database fails: a backup with a hole in it is none.
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
    const { data } = decisionSchema.safeParse(row.decision);
    yield data ? { kind: 'decision', value: data } : asIs('decisions', row.id, row);
  }
  for (const row of await db.reviews.toArray()) {
    const reading = readReviewValue(row.review);
    yield reading.ok ? { kind: 'review', value: reading.review } : asIs('reviews', row.id, row);
  }
  for (const { key, value } of await db.desk.toArray()) {
    if (key === 'followed' && typeof value === 'string') yield { kind: 'followed', value };
    const draft = key === 'draft' ? readKeptPlan(value) : null;
    if (draft !== null) yield { kind: 'draft', value: draft };
  }
  for (const { table, key, value } of await db.aside.toArray()) yield asIs(table, key, value);
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
  for (const key of await db.videos.toCollection().primaryKeys()) {
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
      for (let from = 0; from < bytes.length; from += VIDEO_LINE_BYTES)
        yield { kind: 'video-bytes', value: base64(bytes.subarray(from, from + VIDEO_LINE_BYTES)) };
    }
  }
}

function asIs(table: string, key: unknown, value: unknown): BackupItem {
  return { kind: 'aside', value: { table, key, value } };
}

/** Base64 (RFC 4648, section 4). In parts, because a call takes only so many arguments. */
function base64(bytes: Uint8Array): string {
  let text = '';
  for (let from = 0; from < bytes.length; from += 8192)
    text += String.fromCharCode(...bytes.subarray(from, from + 8192));
  return btoa(text);
}
