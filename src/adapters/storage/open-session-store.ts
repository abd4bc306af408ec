import type { SessionStore, StorageProblem } from '../../core/session/session-store.ts';
import { judgeHere, type SetJudge } from '../../core/session/set-judge.ts';
import { IdbSessionStore } from './idb-session-store.ts';
import { MemorySessionStore } from './memory-session-store.ts';
import { SessionDatabase } from './session-database.ts';
import { storageProblemOf } from './storage-failure.ts';

/** A database that has not opened by then will not: some browsers leave the request hanging. */
const LONGEST_OPENING_MS = 8000;

/** A store, and why it lasts for this visit only; null when it keeps records on this machine. */
export interface OpenedStore {
  readonly store: SessionStore;
  readonly problem: StorageProblem | null;
}

/**
 * Opens the store on this machine; where that is impossible gives one that lasts for the visit, with the reason.
 * @param judge - who judges the sets that broke off
 */
export async function openSessionStore(judge: SetJudge = judgeHere): Promise<OpenedStore> {
  try {
    const db = new SessionDatabase();
    await Promise.race([db.open(), hanging()]);
    return { store: new IdbSessionStore(db, judge), problem: null };
  } catch (error) {
    return { store: new MemorySessionStore(judge), problem: storageProblemOf(error) };
  }
}

async function hanging(): Promise<never> {
  await new Promise((resolve) => setTimeout(resolve, LONGEST_OPENING_MS));
  throw new DOMException('The database did not open.', 'TimeoutError');
}
