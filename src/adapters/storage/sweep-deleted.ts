import { deletedIds, takeNotes } from './deleted-sessions.ts';
import { keysFrom, type SessionDatabase } from './session-database.ts';
import { SessionLocks } from './session-locks.ts';

/**
 * Does away with the reviews and videos of sessions that were deleted in a visit that has ended. Those of a tab that is still
 * open stay, because it can bring them back; a session that repair set aside is not deleted. A review that came before its
 * session stays, because nothing was deleted; a video without a session can never be seen. Throws what the database throws.
 */
export async function sweepDeleted(db: SessionDatabase): Promise<void> {
  const { sessions, desk, reviews, videos, videoChunks, aside } = db;
  const inUse = await new SessionLocks('deleted').held();
  await db.transaction('rw', [sessions, desk, reviews, videos, videoChunks, aside], async () => {
    const setAside = new Set((await aside.where({ table: 'sessions' }).toArray()).map(({ key }) => key));
    const stays = (id: string): boolean => inUse.has(id) || setAside.has(id);
    const deleted = await deletedIds(db);
    for (const sessionId of deleted.filter((id) => !stays(id))) await reviews.where({ sessionId }).delete();
    const filmed = [...new Set((await videos.toCollection().primaryKeys()).map(([id]) => id))];
    const kept = await sessions.bulkGet(filmed);
    for (const id of filmed.filter((it, index) => kept[index] === undefined && !stays(it)))
      for (const table of [videos, videoChunks])
        await table
          .where(':id')
          .between(...keysFrom(id))
          .delete();
    const left = new Set(deleted.filter(stays));
    await takeNotes(db, ({ id }) => !left.has(id));
  });
}
