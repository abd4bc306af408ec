import type { KeptBeside } from '../core/exchange/exchange-store.ts';
import { readItem } from '../core/exchange/package-items.ts';
import { exchangeItem, type Stores } from '../core/exchange/take-item.ts';
import { besideApart, putInForce, type WaitingPlan } from '../core/exchange/waiting-plans.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';

/**
 * What came and is not in force: newer versions of plans, which are put in force or put away, and what came under the name
 * of something else that is kept, to be looked at, exchanged for it, or put away.
 */
export class KeptBesideList {
  readonly #stores: Stores;
  readonly #moment: () => string;
  readonly #oninforce: () => void;
  #rows = $state.raw<readonly KeptBeside[]>([]);
  #waiting = $state.raw<readonly WaitingPlan[]>([]);
  #removed = $state.raw<readonly KeptBeside[]>([]);
  #problem = $state.raw<StorageProblem | null>(null);

  /** oninforce: told when a version of a plan was put in force. */
  constructor(stores: Stores, moment: () => string, oninforce: () => void) {
    this.#stores = stores;
    this.#moment = moment;
    this.#oninforce = oninforce;
  }

  /** Newer versions of plans that came and wait for a decision. */
  get waiting(): readonly WaitingPlan[] {
    return this.#waiting;
  }

  /** What came under the name of something else. */
  get rows(): readonly KeptBeside[] {
    return this.#rows;
  }

  /** What was deleted last and can still be brought back. */
  get removed(): readonly KeptBeside[] {
    return this.#removed;
  }

  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** Looks the list up. */
  async look(): Promise<void> {
    const listed = await this.#stores.exchange.listBeside();
    this.#tell(listed);
    if (!listed.ok) return;
    const { waiting, others } = await besideApart(listed.value, this.#stores.plans);
    this.#waiting = waiting;
    this.#rows = others;
  }

  /** Puts a version that waited in force: from now on everything goes by it. */
  async putInForce(waiting: WaitingPlan): Promise<void> {
    this.#tell(await putInForce(waiting, this.#stores));
    this.#oninforce();
    await this.look();
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

  /** Deletes rows; they can be brought back until the next deletion or the end of the visit. */
  async remove(rows: readonly KeptBeside[]): Promise<void> {
    const removed: KeptBeside[] = [];
    for (const row of rows) {
      const gone = await this.#stores.exchange.removeBeside(row.key);
      this.#tell(gone);
      if (gone.ok) removed.push(row);
    }
    this.#removed = removed;
    await this.look();
  }

  /** Brings back what was deleted last. */
  async undo(): Promise<void> {
    for (const row of this.#removed) this.#tell(await this.#stores.exchange.keepBeside(row));
    this.#removed = [];
    await this.look();
  }

  /** Lets go of what was deleted last. */
  letGo(): void {
    this.#removed = [];
  }

  #tell(stored: Stored<unknown>): void {
    this.#problem = stored.ok ? null : stored.problem;
  }
}
