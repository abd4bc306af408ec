import type { CheckedTable, StoreFindings, Trouble, Watch } from '../../core/backup/store-care.ts';
import { decisionSchema } from '../../core/plan/decision.ts';
import { readDayValue, readPlanValue } from '../../core/plan/read-plan.ts';
import { readReviewValue } from '../../core/review/read-review.ts';
import { readHeader } from '../../core/session/migrations.ts';
import type { SessionStore } from '../../core/session/session-store.ts';
import { keptVideoSchema } from '../../core/session/video-store.ts';
import { keyPairSchema } from '../../core/exchange/sealing.ts';
import { besideRefusal } from './beside-rows.ts';
import { KEY_PAIR } from './key-names.ts';
import type { SessionDatabase } from './session-database.ts';
import { relist, unlistedIds } from './session-listings.ts';

/** Rows of a table that are read at once. */
const PAGE_ROWS = 100;

type Found = Trouble[];

/**
 * Looks at what is kept. Without "thorough" keys are compared, and only sessions without a listing are read: of ten thousand
 * sessions that is a moment. Throws what the database throws.
 */
export async function checkStore(
  db: SessionDatabase,
  sessions: SessionStore,
  thorough: boolean,
  { onShare, isCancelled }: Watch,
): Promise<StoreFindings> {
  const counts = await countRows(db);
  // Read at one moment: a session that comes meanwhile has its sets in the same step.
  const [sessionIds, setKeys] = await db.transaction('r', db.sessions, db.sets, () =>
    Promise.all([db.sessions.toCollection().primaryKeys(), db.sets.toCollection().primaryKeys()]),
  );
  const ids = new Set(sessionIds);
  const troubles: Found = setKeys
    .filter(([sessionId]) => !ids.has(sessionId))
    .map((key) => ({ table: 'sets', key, kind: 'alone', detail: 'Its session is not kept.' }));
  await dropListingsAlone(db, ids);
  const unreadable = new Set(await unlistable(db, troubles));
  if (!thorough) return { counts, troubles, isThorough: false };

  await piecesAlone(db, troubles);
  let done = 0;
  for (const id of ids) {
    if (isCancelled()) return { counts, troubles, isThorough: false };
    onShare(done++ / Math.max(1, ids.size));
    if (unreadable.has(id)) continue;
    const loaded = await sessions.loadSession(id);
    if (!loaded.ok && loaded.problem === 'unreadable')
      troubles.push({ table: 'sessions', key: id, kind: 'unreadable', detail: loaded.detail });
  }
  await checkDocuments(db, troubles);
  await checkBeside(db, troubles);
  return { counts, troubles, isThorough: true };
}

async function countRows(db: SessionDatabase): Promise<StoreFindings['counts']> {
  const { sessions, sets, pieces, plans, days, decisions, reviews, videos, beside, keys } = db;
  return {
    sessions: await sessions.count(),
    sets: await sets.count(),
    pieces: await pieces.count(),
    plans: await plans.count(),
    days: await days.count(),
    decisions: await decisions.count(),
    reviews: await reviews.count(),
    videos: await videos.count(),
    beside: await beside.count(),
    keys: await keys.count(),
  };
}

/** A listing follows from its session: without one it says nothing, and nothing is lost with it. */
async function dropListingsAlone(db: SessionDatabase, ids: ReadonlySet<string>): Promise<void> {
  const listed = await db.listings.toCollection().primaryKeys();
  const alone = listed.filter((id) => !ids.has(id));
  if (alone.length === 0) return;
  await db.transaction('rw', db.sessions, db.sets, db.listings, async () => {
    for (const id of alone) await relist(db, id);
  });
}

/** Sessions that no list can show; they are the ones whose header or sets cannot be read. */
async function unlistable(db: SessionDatabase, troubles: Found): Promise<string[]> {
  const found: string[] = [];
  for (const id of await unlistedIds(db)) {
    const listed = await db.transaction('rw', db.sessions, db.sets, db.listings, () => relist(db, id));
    if (listed === null || listed.facts !== null) continue;
    const isReadable = listed.row.finished !== true && readHeader(listed.row.header)?.id === id;
    if (isReadable) continue;
    found.push(id);
    troubles.push({ table: 'sessions', key: id, kind: 'unreadable', detail: 'It cannot be listed.' });
  }
  return found;
}

async function piecesAlone(db: SessionDatabase, troubles: Found): Promise<void> {
  const [sets, pieces] = await db.transaction('r', db.sets, db.pieces, () =>
    Promise.all([db.sets.toCollection().primaryKeys(), db.pieces.toCollection().primaryKeys()]),
  );
  const setKeys = new Set(sets.map((key) => JSON.stringify(key)));
  for (const key of pieces) {
    const [sessionId, setIndex] = key;
    if (!setKeys.has(JSON.stringify([sessionId, setIndex])))
      troubles.push({ table: 'pieces', key, kind: 'alone', detail: 'Its set is not kept.' });
  }
}

/** The tables whose rows are documents, each with its gate: what is wrong with a row, or null. */
const GATES: readonly [CheckedTable, (row: Record<string, unknown>) => string | null][] = [
  ['plans', ({ plan }) => refusalOf(readPlanValue(plan))],
  ['days', ({ day }) => refusalOf(readDayValue(day))],
  ['decisions', ({ decision }) => decisionSchema.safeParse(decision).error?.message ?? null],
  ['reviews', ({ review }) => refusalOf(readReviewValue(review))],
  ['videos', (row) => keptVideoSchema.safeParse(row).error?.message ?? null],
  ['keys', keyRefusal],
];

/** Says nothing of what stands in the row: it may be a secret. What has another name is of a newer version. */
function keyRefusal({ name, value }: Record<string, unknown>): string | null {
  if (typeof name !== 'string' || !name.startsWith(KEY_PAIR)) return null;
  const pair = keyPairSchema.safeParse(value);
  return pair.success && KEY_PAIR + pair.data.publicKey === name ? null : 'It is no key pair.';
}

/** Whether a row that was in trouble is a good one by now: it was written anew since the check. */
export function isMended(table: CheckedTable, row: Record<string, unknown>): boolean {
  const gate = GATES.find(([name]) => name === table)?.[1];
  return gate !== undefined && gate(row) === null;
}

async function checkDocuments(db: SessionDatabase, troubles: Found): Promise<void> {
  for (const [table, gate] of GATES) {
    const keys = (await db.table(table).toCollection().primaryKeys()) as Trouble['key'][];
    for (let from = 0; from < keys.length; from += PAGE_ROWS) {
      const some = keys.slice(from, from + PAGE_ROWS);
      const rows: unknown[] = await db.table(table).bulkGet(some as never[]);
      for (const [index, row] of rows.entries()) {
        const key = some[index];
        if (key === undefined || row === undefined) continue;
        const detail = gate(row as Record<string, unknown>);
        if (detail !== null) troubles.push({ table, key, kind: 'unreadable', detail });
      }
    }
  }
}

async function checkBeside(db: SessionDatabase, troubles: Found): Promise<void> {
  for (const key of await db.beside.toCollection().primaryKeys()) {
    const row = await db.beside.get(key);
    const detail = row === undefined ? null : await besideRefusal(row);
    if (detail !== null) troubles.push({ table: 'beside', key, kind: 'unreadable', detail });
  }
}

function refusalOf(reading: { readonly ok: boolean; readonly problem?: unknown }): string | null {
  return reading.ok ? null : JSON.stringify(reading.problem);
}
