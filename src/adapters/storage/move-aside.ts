import type { SessionDatabase } from './session-database.ts';

/**
 * Keeps a row aside that is about to be written over. To be called in the transaction that writes, which must have the
 * table of what is set aside: the row is in one place or in the other, never in none.
 */
export async function moveAside(
  db: SessionDatabase,
  table: 'plans' | 'days' | 'decisions' | 'reviews',
  key: string | readonly (string | number)[],
  value: unknown,
): Promise<void> {
  await db.aside.put({ id: crypto.randomUUID(), table, key, value, setAsideAt: new Date().toISOString() });
}
