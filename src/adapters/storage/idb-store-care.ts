import type { AsideValue, BackupCounts, BackupItem } from '../../core/backup/backup-lines.ts';
import type { AsideRow, StoreCare, StoreFindings, Trouble, Watch } from '../../core/backup/store-care.ts';
import type { SessionStore } from '../../core/session/session-store.ts';
import { STORED, type Stored } from '../../core/stored.ts';
import { backupItems } from './backup-items.ts';
import { onDatabase } from './on-database.ts';
import type { SessionDatabase } from './session-database.ts';
import { checkStore } from './store-check.ts';
import { setAsideTrouble } from './store-repair.ts';

/** Looks after the browser's database as a whole. Loaded when it is first asked for. */
export class IdbStoreCare implements StoreCare {
  readonly #db: SessionDatabase;
  readonly #sessions: SessionStore;

  constructor(db: SessionDatabase, sessions: SessionStore) {
    this.#db = db;
    this.#sessions = sessions;
  }

  check(thorough: boolean, watch: Watch): Promise<Stored<StoreFindings>> {
    return this.#attempt(async () => ({
      ok: true,
      value: await checkStore(this.#db, this.#sessions, thorough, watch),
    }));
  }

  repair(troubles: readonly Trouble[], at: string, watch: Watch): Promise<Stored<number>> {
    return this.#attempt(async () => {
      let done = 0;
      for (const trouble of troubles) {
        if (watch.isCancelled()) break;
        watch.onShare(done / troubles.length);
        await setAsideTrouble(this.#db, trouble, at);
        done += 1;
      }
      return { ok: true, value: done };
    });
  }

  setAside(id: string, value: AsideValue, at: string): Promise<Stored<boolean>> {
    const { aside } = this.#db;
    return this.#attempt(() =>
      this.#db.transaction('rw', aside, async () => {
        if ((await aside.get(id)) !== undefined) return { ok: true, value: false };
        await aside.put({ id, ...value, setAsideAt: at });
        return { ok: true, value: true };
      }),
    );
  }

  countAside(): Promise<Stored<number>> {
    return this.#attempt(async () => ({ ok: true, value: await this.#db.aside.count() }));
  }

  async *asideRows(): AsyncGenerator<AsideRow> {
    for (const id of await this.#db.aside.toCollection().primaryKeys()) {
      const row = await this.#db.aside.get(id);
      if (row !== undefined) yield row;
    }
  }

  clearAside(): Promise<Stored<null>> {
    return this.#attempt(async () => {
      await this.#db.aside.clear();
      return STORED;
    });
  }

  counts(): Promise<Stored<BackupCounts>> {
    const { sessions, plans, days, decisions, reviews, videos, aside } = this.#db;
    return this.#attempt(async () => ({
      ok: true,
      value: {
        record: await sessions.count(),
        plan: await plans.count(),
        day: await days.count(),
        decision: await decisions.count(),
        review: await reviews.count(),
        video: await videos.count(),
        aside: await aside.count(),
      },
    }));
  }

  items(withVideos: boolean): AsyncGenerator<BackupItem> {
    return backupItems(this.#db, this.#sessions, withVideos);
  }

  #attempt<Value>(work: () => PromiseLike<Stored<Value>>): Promise<Stored<Value>> {
    return onDatabase(this.#db, work);
  }
}
