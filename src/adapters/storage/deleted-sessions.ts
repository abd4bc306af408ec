import { readHeader } from '../../core/session/migrations.ts';
import type { SessionDatabase } from './session-database.ts';

/* What was deleted can be brought back until its visit ends: until then only its id stands here, and the plan that it followed. */

/** A deleted session. planId: null where it followed no plan, and where that cannot be told. */
export interface DeletedNote {
  readonly id: string;
  readonly planId: string | null;
}

/** Notes that a session is deleted. To be called in the transaction that deletes it, before that; it must have the desk. */
export async function noteDeleted(db: SessionDatabase, sessionId: string): Promise<void> {
  const row = await db.sessions.get(sessionId);
  const planId = row === undefined ? null : (readHeader(row.header)?.plan?.planId ?? null);
  await addNotes(db, [{ id: sessionId, planId }]);
}

/** Adds notes to those that are there. */
export async function addNotes(db: SessionDatabase, notes: readonly DeletedNote[]): Promise<void> {
  const ids = new Set(notes.map(({ id }) => id));
  const others = (await notesOf(db)).filter(({ id }) => !ids.has(id));
  await db.desk.put({ key: 'deleted', value: [...others, ...notes] });
}

/** Takes out the notes that are meant, and gives them. */
export async function takeNotes(
  db: SessionDatabase,
  isMeant: (note: DeletedNote) => boolean,
): Promise<DeletedNote[]> {
  const notes = await notesOf(db);
  const left = notes.filter((note) => !isMeant(note));
  if (left.length === 0) await db.desk.delete('deleted');
  else await db.desk.put({ key: 'deleted', value: left });
  return notes.filter(isMeant);
}

/** The sessions that were deleted and not brought back. */
export async function deletedIds(db: SessionDatabase): Promise<string[]> {
  const noted = (await notesOf(db)).map(({ id }) => id);
  if (noted.length === 0) return noted;
  const kept = await db.sessions.bulkGet(noted);
  return noted.filter((_, index) => kept[index] === undefined);
}

/** Notes of deleted sessions, of which some may have been brought back since. Older versions noted the id alone. */
async function notesOf(db: SessionDatabase): Promise<DeletedNote[]> {
  const value: unknown = (await db.desk.get('deleted'))?.value;
  return Array.isArray(value) ? value.flatMap(noteIn) : [];
}

function noteIn(value: unknown): DeletedNote[] {
  if (typeof value === 'string') return [{ id: value, planId: null }];
  if (typeof value !== 'object' || value === null || !('id' in value) || typeof value.id !== 'string')
    return [];
  return [
    { id: value.id, planId: 'planId' in value && typeof value.planId === 'string' ? value.planId : null },
  ];
}
