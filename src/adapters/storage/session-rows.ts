import type { SetPlace } from '../../core/session/session-store.ts';
import type { FrameSeries } from '../../core/session/quantised-frames.ts';
import { keysFrom, type SessionDatabase, type SetRow } from './session-database.ts';

/** Pieces read at once: more would hold up the page that shows what is going on. */
const READ_PIECES = 24;

/** The sets of a session in order. */
export function setsOf(db: SessionDatabase, sessionId: string): PromiseLike<SetRow[]> {
  return db.sets
    .where(':id')
    .between(...keysFrom(sessionId))
    .toArray();
}

/** The pieces of a set in order, read a few at a time. */
export async function piecesOf(
  db: SessionDatabase,
  { sessionId, setIndex }: SetPlace,
): Promise<FrameSeries[]> {
  const [lowest, highest] = keysFrom(sessionId, setIndex);
  const frames: FrameSeries[] = [];
  for (let from = lowest, isFirst = true; ; isFirst = false) {
    const rows = await db.pieces.where(':id').between(from, highest, isFirst).limit(READ_PIECES).toArray();
    frames.push(...rows.map((row) => row.frames));
    const last = rows.at(-1);
    if (last === undefined || rows.length < READ_PIECES) return frames;
    from = [sessionId, setIndex, last.pieceIndex];
  }
}
