import { contentId } from '../../core/backup/restore.ts';
import type { AsideValue } from '../../core/backup/backup-lines.ts';
import type { CheckedTable, Trouble } from '../../core/backup/store-care.ts';
import { besideAsPlain, besideRefusal } from './beside-rows.ts';
import { keysFrom, type SessionDatabase } from './session-database.ts';
import { isMended } from './store-check.ts';

/**
 * Takes one row out of its table and keeps it aside as it was, with everything that belongs to it, in one transaction: it
 * is in one place or in the other, never in none. A row that is in no trouble any more stays. Throws what the database throws.
 */
export async function setAsideTrouble(db: SessionDatabase, trouble: Trouble, at: string): Promise<void> {
  const { table, key } = trouble;
  if (table === 'beside') return setBesideAside(db, String(key), at);
  const isSession = table === 'sessions' && typeof key === 'string';
  const ofSessions = [db.sessions, db.sets, db.pieces, db.listings];
  const tables = isSession || trouble.kind === 'alone' ? ofSessions : [db.table(table)];
  await db.transaction('rw', [...tables, db.aside], async () => {
    if (trouble.kind === 'alone' && (await belongs(db, trouble))) return;
    const value = isSession ? await takeSession(db, key) : await takeRow(db, table, key);
    if (value !== null) await db.aside.put({ id: idOf(value, key), ...value, setAsideAt: at });
  });
}

/** The same of what stands beside something of its name; its content is read before, because a transaction waits for nothing else. */
async function setBesideAside(db: SessionDatabase, key: string, at: string): Promise<void> {
  const row = await db.beside.get(key);
  if (row === undefined || (await besideRefusal(row)) === null) return;
  const value = { table: 'beside', key, value: await besideAsPlain(row) };
  await db.transaction('rw', db.beside, db.aside, async () => {
    // Whoever deleted it meanwhile does not want it back.
    if ((await db.beside.get(key)) === undefined) return;
    await db.aside.put({ id: idOf(value, key), ...value, setAsideAt: at });
    await db.beside.delete(key);
  });
}

/** An id that follows from the row; where JSON cannot say the row, from its key. */
function idOf(value: AsideValue, key: unknown): string {
  try {
    return contentId(value);
  } catch {
    return contentId([value.table, key]);
  }
}

async function takeSession(db: SessionDatabase, key: string): Promise<AsideValue | null> {
  const { sessions, sets, pieces, listings } = db;
  const session = await sessions.get(key);
  if (session === undefined) return null;
  const ofSession = [sets, pieces].map((table) => table.where(':id').between(...keysFrom(key)));
  const [setRows, pieceRows] = await Promise.all(ofSession.map((rows) => rows.toArray()));
  await Promise.all([sessions.delete(key), listings.delete(key), ...ofSession.map((rows) => rows.delete())]);
  return { table: 'sessions', key, value: { session, sets: setRows, pieces: pieceRows } };
}

/** Whether a set or a piece that was alone has its session or its set by now. */
async function belongs(db: SessionDatabase, { table, key }: Trouble): Promise<boolean> {
  const [sessionId, setIndex] = typeof key === 'string' ? [key] : key;
  if (table === 'sets') return (await db.sessions.get(String(sessionId))) !== undefined;
  return (await db.sets.get([String(sessionId), Number(setIndex)])) !== undefined;
}

async function takeRow(
  db: SessionDatabase,
  table: CheckedTable,
  key: Trouble['key'],
): Promise<AsideValue | null> {
  const value: Record<string, unknown> | undefined = await db.table(table).get(key as never);
  if (value === undefined || isMended(table, value)) return null;
  await db.table(table).delete(key as never);
  return { table, key, value };
}
