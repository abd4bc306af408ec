import type { KeptBeside } from '../core/exchange/exchange-store.ts';
import { readItem } from '../core/exchange/package-items.ts';
import { exchangeItem, type Stores } from '../core/exchange/take-item.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';

/** What came under the name of something else that is kept: looked at, exchanged for it, or put away. */
export class KeptBesideList {
  readonly #stores: Stores;
  readonly #moment: () => string;
  #rows = $state.raw<readonly KeptBeside[]>([]);
  #removed = $state.raw<KeptBeside | null>(null);
  #problem = $state.raw<StorageProblem | null>(null);

  constructor(stores: Stores, moment: () => string) {
    this.#stores = stores;
    this.#moment = moment;
  }

  get rows(): readonly KeptBeside[] {
    return this.#rows;
  }

  /** What was deleted last and can still be brought back. */
  get removed(): KeptBeside | null {
    return this.#removed;
  }

  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** Looks the list up. */
  async look(): Promise<void> {
    const listed = await this.#stores.exchange.listBeside();
    this.#tell(listed);
    if (listed.ok) this.#rows = listed.value;
  }

  /** Puts it in the place of what is kept under its name, which then stands here. */
  async exchange(row: KeptBeside): Promise<void> {
    const reading = await readItem(row.entry, row.content);
    if (!reading.ok || reading.value === null) this.#problem = 'unreadable';
    else {
      const arrival = { fileName: row.fileName, cameAt: this.#moment() };
      this.#tell(await exchangeItem(reading.value, row.key, arrival, this.#stores));
    }
    await this.look();
  }

  /** Deletes it; it can be brought back until the next deletion or the end of the visit. */
  async remove(row: KeptBeside): Promise<void> {
    const gone = await this.#stores.exchange.removeBeside(row.key);
    this.#tell(gone);
    if (gone.ok) this.#removed = row;
    await this.look();
  }

  /** Brings back what was deleted last. */
  async undo(): Promise<void> {
    if (this.#removed !== null) this.#tell(await this.#stores.exchange.keepBeside(this.#removed));
    this.#removed = null;
    await this.look();
  }

  /** Lets go of what was deleted last. */
  letGo(): void {
    this.#removed = null;
  }

  #tell(stored: Stored<unknown>): void {
    this.#problem = stored.ok ? null : stored.problem;
  }
}
