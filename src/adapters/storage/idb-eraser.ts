import type { Table } from 'dexie';
import type { ErasedRows, Eraser } from '../../core/exchange/eraser.ts';
import type { PersonContents } from '../../core/exchange/person-contents.ts';
import { STORED, type Stored } from '../../core/stored.ts';
import { addNotes, takeNotes, type DeletedNote } from './deleted-sessions.ts';
import { onDatabase } from './on-database.ts';
import { keysFrom, type SessionDatabase } from './session-database.ts';

/** The therapist's keys are nobody's data here: without them packages that are still to come would open no more. */
const NOT_ERASED: readonly string[] = ['keys'];
/** Among what was erased, the notes of sessions that were deleted before: they are part of a row that has others' as well. */
const NOTES = 'notes of deleted sessions';

/** Erases everything of a person from the browser's database. */
export class IdbEraser implements Eraser {
  readonly #db: SessionDatabase;

  constructor(db: SessionDatabase) {
    this.#db = db;
  }

  erase(contents: PersonContents): Promise<Stored<ErasedRows>> {
    const db = this.#db;
    const tables = db.tables.filter(({ name }) => !NOT_ERASED.includes(name));
    return onDatabase(db, () =>
      db.transaction('rw', tables, async () => {
        const deleted = await deletedOf(db, contents);
        const erased: { name: string; rows: unknown[] }[] = [{ name: NOTES, rows: deleted }];
        for (const table of tables) {
          const keys = await keysOf(db, table, contents, deleted);
          erased.push({ name: table.name, rows: (await table.bulkGet(keys)).map(lighter) });
          await table.bulkDelete(keys);
        }
        return { ok: true, value: { tables: erased } };
      }),
    );
  }

  async putBack({ tables }: ErasedRows): Promise<Stored<null>> {
    const db = this.#db;
    // Read before the transaction, which ends when anything else is waited for.
    const whole = await Promise.all(
      tables.map(async ({ name, rows }) => ({ name, rows: await Promise.all(rows.map(asItWas)) })),
    );
    return onDatabase(db, () =>
      db.transaction('rw', db.tables, async () => {
        for (const { name, rows } of whole)
          if (name === NOTES) await addNotes(db, rows as DeletedNote[]);
          else await db.table(name).bulkPut(rows);
        return STORED;
      }),
    );
  }
}

/** Takes out the notes of a person's sessions that were deleted in this visit, and gives them. */
async function deletedOf(db: SessionDatabase, { whose }: PersonContents): Promise<DeletedNote[]> {
  if (whose.kind === 'everybody') return [];
  const kept = new Set((await db.plans.toCollection().primaryKeys()).map(([planId]) => planId));
  return takeNotes(db, ({ planId }) =>
    whose.kind === 'plan' ? planId === whose.planId : planId === null || !kept.has(planId),
  );
}

/** The keys of all rows of a table that belong to a person. */
async function keysOf(
  db: SessionDatabase,
  table: Table,
  { whose, sessions, days }: PersonContents,
  deleted: readonly DeletedNote[],
): Promise<unknown[]> {
  if (whose.kind === 'everybody') return table.toCollection().primaryKeys();
  const planIds = whose.kind === 'plan' ? [whose.planId] : [];
  const keptIds = sessions.map(({ id }) => id);
  // Reviews and videos may be here without their session: it was deleted in this visit, or never came.
  const named = days.flatMap(({ exercises }) => exercises.flatMap(({ recordId }) => recordId ?? []));
  const sessionIds = [...new Set([...keptIds, ...named, ...deleted.map(({ id }) => id)])];
  const ids = [...planIds, ...sessionIds];
  switch (table) {
    case db.plans:
      return beginningWith(table, planIds);
    case db.days:
    case db.decisions:
      return table.where('planId').anyOf(planIds).primaryKeys();
    case db.sessions:
    case db.listings:
      return keptIds;
    case db.sets:
    case db.pieces:
    case db.videos:
    case db.videoChunks:
      return beginningWith(table, sessionIds);
    case db.reviews:
      return table.where('sessionId').anyOf(sessionIds).primaryKeys();
    case db.beside:
      return table.where('ownerId').anyOf(ids).primaryKeys();
    case db.desk: {
      const rows = await db.desk.toArray();
      return rows.filter(({ value }) => names(value, planIds)).map(({ key }) => key);
    }
    default: {
      // What was set aside because it cannot be read may be anybody's: what names the person goes.
      const rows: unknown[] = await table.toArray();
      const keys = await table.toCollection().primaryKeys();
      return keys.filter((_, index) => names(rows[index], ids));
    }
  }
}

async function beginningWith(table: Table, ids: readonly string[]): Promise<unknown[]> {
  const found: unknown[] = [];
  for (const id of ids)
    found.push(
      ...(await table
        .where(':id')
        .between(...keysFrom(id))
        .primaryKeys()),
    );
  return found;
}

/** Whether one of the ids stands anywhere in a value. */
function names(value: unknown, ids: readonly string[]): boolean {
  const text = JSON.stringify(value) ?? '';
  return ids.some((id) => text.includes(id));
}

/** Bytes of a video as a Blob, which a browser keeps outside the page's memory. */
function lighter(row: unknown): unknown {
  return isChunk(row) ? { ...row, bytes: new Blob([row.bytes]) } : row;
}

async function asItWas(row: unknown): Promise<unknown> {
  return isHeldChunk(row) ? { ...row, bytes: await row.bytes.arrayBuffer() } : row;
}

function isChunk(row: unknown): row is { readonly bytes: ArrayBuffer } {
  return typeof row === 'object' && row !== null && 'bytes' in row && row.bytes instanceof ArrayBuffer;
}

function isHeldChunk(row: unknown): row is { readonly bytes: Blob } {
  return typeof row === 'object' && row !== null && 'bytes' in row && row.bytes instanceof Blob;
}
