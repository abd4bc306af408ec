import { readHeader } from '../../core/session/migrations.ts';
import { secondsAcross } from '../../core/session/quantised-frames.ts';
import {
  FACTS_VERSION,
  listedFacts,
  type ListedFacts,
  type ListedSet,
} from '../../core/session/session-listing.ts';
import type { SessionListing } from '../../core/session/session-store.ts';
import { piecesOf, setsOf } from './session-rows.ts';
import type { ListingRow, SessionDatabase, SessionRow } from './session-database.ts';

/** Sessions whose listing is made in one transaction; between two the page can draw. */
const AT_ONCE = 50;
/** Listings that are read at once: the browser copies them on the page's own thread. Chosen for this tool. */
const PAGE_ROWS = 500;

/** A session that has no listing yet, and what a listing would say; null where its rows cannot be read. */
interface Unlisted {
  readonly row: SessionRow;
  readonly facts: ListedFacts | null;
}

/**
 * Makes the listing of a session anew, or takes it away when the session is gone, not finished, or cannot be read. To be
 * called in every transaction that changes a session that may be finished: on sessions, sets and listings.
 */
export async function relist(db: SessionDatabase, sessionId: string): Promise<Unlisted | null> {
  const row = await db.sessions.get(sessionId);
  if (row === undefined) {
    await db.listings.delete(sessionId);
    return null;
  }
  // A session that is not finished changes with every set: it is worked out whenever it is listed.
  if (row.finished !== true) return { row, facts: null };
  const facts = factsOf(row, await setsOf(db, sessionId));
  if (facts === null) await db.listings.delete(sessionId);
  else {
    const dayId = facts.plan?.dayId ?? '';
    await db.listings.put({ id: sessionId, dayId, factsVersion: FACTS_VERSION, facts });
  }
  return { row, facts };
}

/** Which sessions, who hears how far it is, and who knows whether it is wanted at all any more. */
interface Asked {
  readonly dayId?: string;
  readonly onProgress?: ((share: number) => void) | undefined;
  readonly isWanted?: (() => boolean) | undefined;
}

/** What a list says of the sessions in these rows, or of all; the rest is worked out from the sessions themselves. */
export async function listings(
  db: SessionDatabase,
  recording: ReadonlySet<string>,
  { dayId, onProgress, isWanted = () => true }: Asked = {},
): Promise<SessionListing[]> {
  const unlisted = await unlistedIds(db);
  const made: SessionListing[] = [];
  for (let from = 0; from < unlisted.length && isWanted(); from += AT_ONCE) {
    onProgress?.(from / unlisted.length);
    made.push(...(await listSome(db, unlisted.slice(from, from + AT_ONCE), recording)));
  }
  const kept =
    dayId === undefined ? await everyRow(db, isWanted) : await db.listings.where({ dayId }).toArray();
  const others = new Set(made.map(({ id }) => id));
  const listed = kept.filter((row) => !others.has(row.id)).map(finished);
  const all = [...made.filter(({ plan }) => dayId === undefined || plan?.dayId === dayId), ...listed];
  const madeAt = new Map(all.map(({ id, createdAt }) => [id, Date.parse(createdAt)]));
  return all.sort((a, b) => (madeAt.get(b.id) ?? 0) - (madeAt.get(a.id) ?? 0));
}

/** All listings at one moment, some at a time: between two the page can draw, and do what was asked for since. */
function everyRow(db: SessionDatabase, isWanted: () => boolean): Promise<ListingRow[]> {
  return db.transaction('r', db.listings, async () => {
    const rows: ListingRow[] = [];
    for (;;) {
      const after = rows.at(-1)?.id;
      const from = after === undefined ? db.listings.toCollection() : db.listings.where('id').above(after);
      const some = await from.limit(PAGE_ROWS).toArray();
      rows.push(...some);
      if (some.length < PAGE_ROWS || !isWanted()) return rows;
    }
  });
}

/** Listings of the sessions that are not finished and not being recorded, without looking at any other. */
export async function unfinishedListings(
  db: SessionDatabase,
  recording: ReadonlySet<string>,
): Promise<SessionListing[]> {
  const all = await listSome(db, await unlistedIds(db), recording);
  return all
    .filter(({ state }) => state === 'unfinished')
    .sort((a, b) => Date.parse(b.createdAt) - Date.parse(a.createdAt));
}

/** Sessions without a listing: those that are not finished, those of older versions, and those that cannot be read. */
export async function unlistedIds(db: SessionDatabase): Promise<string[]> {
  // Counting is several times quicker than naming, and nearly always every session has its listing. A listing goes in the same
  // step as its session; the check of the store finds those that damage left alone.
  const [kept, usable] = await db.transaction('r', db.sessions, db.listings, () =>
    Promise.all([db.sessions.count(), db.listings.where({ factsVersion: FACTS_VERSION }).count()]),
  );
  return kept === usable ? [] : idsWithout(db);
}

/** The ids of the sessions without a listing of this version. */
async function idsWithout(db: SessionDatabase): Promise<string[]> {
  const [ids, listed, old] = await db.transaction('r', db.sessions, db.listings, () =>
    Promise.all([
      db.sessions.toCollection().primaryKeys(),
      db.listings.toCollection().primaryKeys(),
      db.listings.where('factsVersion').notEqual(FACTS_VERSION).primaryKeys(),
    ]),
  );
  const usable = new Set(listed);
  for (const id of old) usable.delete(id);
  return ids.filter((id) => !usable.has(id));
}

async function listSome(
  db: SessionDatabase,
  ids: readonly string[],
  recording: ReadonlySet<string>,
): Promise<SessionListing[]> {
  const found = await db.transaction('rw', db.sessions, db.sets, db.listings, () =>
    Promise.all(ids.map((id) => relist(db, id))),
  );
  const listed: SessionListing[] = [];
  for (const one of found) {
    if (one === null) continue;
    if (one.facts !== null) listed.push({ ...one.facts, state: 'finished', cutOffSeconds: 0 });
    else if (one.row.finished !== true) listed.push(...(await unfinished(db, one.row, recording)));
  }
  return listed;
}

/** The listing of one session that is not finished; none where it cannot be read. */
async function unfinished(
  db: SessionDatabase,
  row: SessionRow,
  recording: ReadonlySet<string>,
): Promise<SessionListing[]> {
  const sets = await setsOf(db, row.id);
  const facts = factsOf(row, sets);
  if (facts === null) return [];
  const open = sets.find(({ findings }) => findings === null);
  const cutOffSeconds = open === undefined ? 0 : secondsAcross(await piecesOf(db, open));
  return [{ ...facts, state: recording.has(row.id) ? 'recording' : 'unfinished', cutOffSeconds }];
}

function finished({ facts }: ListingRow): SessionListing {
  return { ...facts, state: 'finished', cutOffSeconds: 0 };
}

function factsOf(row: SessionRow, sets: readonly ListedSet[]): ListedFacts | null {
  const header = readHeader(row.header);
  if (header === null || header.id !== row.id) return null;
  try {
    return listedFacts(header, sets);
  } catch {
    // Rows that are not what this code wrote: the check of the store names them.
    return null;
  }
}
