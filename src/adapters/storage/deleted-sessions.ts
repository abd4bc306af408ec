import type { SessionDatabase } from './session-database.ts';

/* What was deleted can be brought back until its visit ends: until then only its id stands here. */

/** Notes that a session is deleted. To be called in the transaction that deletes it, which must have the desk. */
export async function noteDeleted(db: SessionDatabase, sessionId: string): Promise<void> {
  const others = (await notedIds(db)).filter((id) => id !== sessionId);
  await db.desk.put({ key: 'deleted', value: [...others, sessionId] });
}

/** The sessions that were deleted and not brought back. */
export async function deletedIds(db: SessionDatabase): Promise<string[]> {
  const noted = await notedIds(db);
  if (noted.length === 0) return noted;
  const kept = await db.sessions.bulkGet(noted);
  return noted.filter((_, index) => kept[index] === undefined);
}

/** Ids of deleted sessions, of which some may have been brought back since. */
async function notedIds(db: SessionDatabase): Promise<string[]> {
  const value: unknown = (await db.desk.get('deleted'))?.value;
  return Array.isArray(value) ? value.filter((id) => typeof id === 'string') : [];
}
