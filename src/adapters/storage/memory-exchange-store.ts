import type { ExchangeStore, KeptBeside } from '../../core/exchange/exchange-store.ts';
import type { KeyPair } from '../../core/exchange/sealing.ts';
import { STORED, type Stored } from '../../core/stored.ts';

/** Key pairs, and what came beside something else of its name, for this visit only. */
export class MemoryExchangeStore implements ExchangeStore {
  readonly #pairs = new Map<string, KeyPair>();
  readonly #beside = new Map<string, KeptBeside>();

  keyPairs(): Promise<Stored<readonly KeyPair[]>> {
    return Promise.resolve({ ok: true, value: [...this.#pairs.values()] });
  }

  keepKeyPair(pair: KeyPair): Promise<Stored<null>> {
    this.#pairs.set(pair.publicKey, pair);
    return Promise.resolve(STORED);
  }

  removeKeyPair(publicKey: string): Promise<Stored<null>> {
    this.#pairs.delete(publicKey);
    return Promise.resolve(STORED);
  }

  keepBeside(row: KeptBeside): Promise<Stored<null>> {
    this.#beside.set(row.key, row);
    return Promise.resolve(STORED);
  }

  listBeside(): Promise<Stored<readonly KeptBeside[]>> {
    return Promise.resolve({ ok: true, value: [...this.#beside.values()] });
  }

  removeBeside(key: string): Promise<Stored<null>> {
    this.#beside.delete(key);
    return Promise.resolve(STORED);
  }
}
