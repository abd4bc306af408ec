import type { ExchangeStore } from '../core/exchange/exchange-store.ts';
import type { PackageProblem } from '../core/exchange/package-problem.ts';
import type { KeyPair, Sealing } from '../core/exchange/sealing.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';

/** The therapist's key pairs on this machine: made here, kept here, saved as a file, brought from another machine. */
export class KeyRing {
  readonly #store: ExchangeStore;
  readonly #sealing: Sealing;
  #pairs = $state.raw<readonly KeyPair[] | null>(null);
  #removed = $state.raw<KeyPair | null>(null);
  #problem = $state.raw<StorageProblem | null>(null);
  #refused = $state.raw<PackageProblem | null>(null);

  constructor(store: ExchangeStore, sealing: Sealing) {
    this.#store = store;
    this.#sealing = sealing;
  }

  /** The key pairs, the oldest first; null before look(). */
  get pairs(): readonly KeyPair[] | null {
    return this.#pairs;
  }

  /** The pair that was removed last and can still be brought back. */
  get removed(): KeyPair | null {
    return this.#removed;
  }

  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** Why a key file was not taken in. */
  get refused(): PackageProblem | null {
    return this.#refused;
  }

  /** Looks up the key pairs. */
  async look(): Promise<void> {
    const kept = await this.#store.keyPairs();
    this.#tell(kept);
    if (kept.ok) this.#pairs = kept.value;
  }

  /** Makes a key pair and keeps it. */
  async make(): Promise<void> {
    await this.#keep(await this.#sealing.newKeyPair());
  }

  /** The file of a pair, locked with a passphrase. */
  file(pair: KeyPair, passphrase: string): Promise<Blob> {
    return this.#sealing.keyFile(pair, passphrase);
  }

  /** Takes in a key file. */
  async bring(file: Blob, passphrase: string): Promise<boolean> {
    const came = await this.#sealing.openKeyFile(file, passphrase);
    this.#refused = 'secretKey' in came ? null : came;
    if ('secretKey' in came) await this.#keep(came);
    return this.#refused === null;
  }

  /** Removes a pair; it can be brought back for as long as the page is open. */
  async remove(pair: KeyPair): Promise<void> {
    const gone = await this.#store.removeKeyPair(pair.publicKey);
    this.#tell(gone);
    if (gone.ok) this.#removed = pair;
    await this.look();
  }

  /** Brings back the pair that was removed last. */
  async undo(): Promise<void> {
    if (this.#removed !== null) await this.#keep(this.#removed);
    this.#removed = null;
  }

  /** Lets go of the pair that was removed last. */
  letGo(): void {
    this.#removed = null;
  }

  async #keep(pair: KeyPair): Promise<void> {
    this.#tell(await this.#store.keepKeyPair(pair));
    await this.look();
  }

  #tell(stored: Stored<unknown>): void {
    this.#problem = stored.ok ? null : stored.problem;
  }
}
