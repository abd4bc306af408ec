import type { ExchangeStore, KeptBeside } from '../../core/exchange/exchange-store.ts';
import { keyPairSchema, type KeyPair } from '../../core/exchange/sealing.ts';
import { STORED, type Stored } from '../../core/stored.ts';
import { KEY_PAIR } from './key-names.ts';
import { onDatabase } from './on-database.ts';
import type { SessionDatabase } from './session-database.ts';

/** Key pairs, and what came beside something else of its name, in the browser's database. */
export class IdbExchangeStore implements ExchangeStore {
  readonly #db: SessionDatabase;

  constructor(db: SessionDatabase) {
    this.#db = db;
  }

  keyPairs(): Promise<Stored<readonly KeyPair[]>> {
    return this.#attempt(async () => {
      const rows = await this.#db.keys.where('name').startsWith(KEY_PAIR).toArray();
      const pairs = rows.flatMap(({ value }) => {
        const pair = keyPairSchema.safeParse(value);
        return pair.success ? [pair.data] : [];
      });
      return { ok: true, value: pairs.sort((a, b) => Date.parse(a.madeAt) - Date.parse(b.madeAt)) };
    });
  }

  keepKeyPair(pair: KeyPair): Promise<Stored<null>> {
    // Not waited for: some browsers ask the person.
    navigator.storage?.persist?.().catch(() => false);
    return this.#attempt(async () => {
      await this.#db.keys.put({ name: KEY_PAIR + pair.publicKey, value: pair });
      return STORED;
    });
  }

  removeKeyPair(publicKey: string): Promise<Stored<null>> {
    return this.#attempt(async () => {
      await this.#db.keys.delete(KEY_PAIR + publicKey);
      return STORED;
    });
  }

  keepBeside(row: KeptBeside): Promise<Stored<null>> {
    return this.#attempt(async () => {
      await this.#db.beside.put(row);
      return STORED;
    });
  }

  listBeside(): Promise<Stored<readonly KeptBeside[]>> {
    return this.#attempt(async () => ({ ok: true, value: await this.#db.beside.toArray() }));
  }

  removeBeside(key: string): Promise<Stored<null>> {
    return this.#attempt(async () => {
      await this.#db.beside.delete(key);
      return STORED;
    });
  }

  #attempt<Value>(work: () => PromiseLike<Stored<Value>>): Promise<Stored<Value>> {
    return onDatabase(this.#db, work);
  }
}
