import type { Dexie } from 'dexie';
import type { StorageProblem, Stored } from '../../core/stored.ts';
import { failureDetail, storageProblemOf } from './storage-failure.ts';

/** Does a piece of work, and does it once more on a fresh connection when the connection was lost. Never rejects. */
export async function onDatabase<Value>(
  db: Dexie,
  work: () => PromiseLike<Stored<Value>>,
): Promise<Stored<Value>> {
  try {
    return await work();
  } catch (error) {
    if (storageProblemOf(error) !== 'lost-connection')
      return failed(storageProblemOf(error), failureDetail(error));
  }
  try {
    db.close({ disableAutoOpen: false });
    await db.open();
    return await work();
  } catch (error) {
    return failed(storageProblemOf(error), failureDetail(error));
  }
}

/** A failure as a value. */
export function failed(problem: StorageProblem, detail: string): Stored<never> {
  return { ok: false, problem, detail };
}
