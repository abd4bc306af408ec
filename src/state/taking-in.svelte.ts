import { ITEM_KINDS } from '../core/exchange/manifest.ts';
import type { PackageProblem } from '../core/exchange/package-problem.ts';
import type { OpenedPackage, Sealing } from '../core/exchange/sealing.ts';
import { takeItem, type Stores, type Taken } from '../core/exchange/take-item.ts';
import { newestVersions } from '../core/exchange/waiting-plans.ts';
import type { StorageProblem } from '../core/stored.ts';

/** What taking in needs from outside. */
export interface TakingInParts {
  readonly sealing: Sealing;
  readonly stores: Stores;
  /** The moment of the wall clock, with offset. */
  readonly moment: () => string;
  /** Told when something new is kept: lists look again. */
  readonly ontaken?: () => void;
}

/** What became of a file. */
export type FileOutcome =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'working'; readonly share: number }
  | { readonly kind: 'passphrase-asked'; readonly isWrong: boolean }
  | { readonly kind: 'refused'; readonly problem: PackageProblem }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'not-kept'; readonly problem: StorageProblem }
  /** counts: items by what became of them. unreadable: what did not pass the gate of its own kind. */
  | {
      readonly kind: 'taken';
      readonly label: string;
      readonly counts: Readonly<Record<Taken, number>>;
      readonly unreadable: number;
    };

/** A file that came, and what became of it. */
export interface TakenFile {
  readonly key: number;
  readonly file: File;
  readonly outcome: FileOutcome;
}

const NOTHING_TAKEN: Readonly<Record<Taken, number>> = {
  new: 0,
  same: 0,
  renewed: 0,
  waits: 0,
  beside: 0,
  'not-kept': 0,
};

/** Takes packages in, one after another: the entry point for files that were chosen, dropped or found in a folder. */
export class TakingIn {
  readonly #parts: TakingInParts;
  #files = $state.raw<readonly TakenFile[]>([]);
  #isWorking = $state(false);
  #isStopped = false;
  #count = 0;

  constructor(parts: TakingInParts) {
    this.#parts = parts;
  }

  /** The files of this visit, the last one first. */
  get files(): readonly TakenFile[] {
    return this.#files;
  }

  get isWorking(): boolean {
    return this.#isWorking;
  }

  /** How much of the files of this round is done, 0 to 1. */
  get share(): number {
    const begun = this.#files.filter(
      ({ outcome }) => outcome.kind === 'waiting' || outcome.kind === 'working',
    );
    const open = begun.reduce(
      (sum, { outcome }) => sum + (outcome.kind === 'working' ? 1 - outcome.share : 1),
      0,
    );
    return this.#round === 0 ? 1 : 1 - open / this.#round;
  }

  #round = $state(0);

  /** Takes files in. Nothing that is kept is lost or changed by it; settles when all of them are done. */
  async take(files: readonly File[]): Promise<void> {
    const came = files.map((file): TakenFile => {
      this.#count += 1;
      return { key: this.#count, file, outcome: { kind: 'waiting' } };
    });
    this.#files = [...came, ...this.#files];
    await this.#work();
  }

  /** Opens a file that asks for a passphrase. */
  async open(key: number, passphrase: string): Promise<void> {
    const file = this.#files.find((each) => each.key === key);
    if (file?.outcome.kind !== 'passphrase-asked') return;
    await this.#takeFile(file, passphrase);
  }

  /** Stops after the item that is being kept; what is kept stays. */
  stop(): void {
    this.#isStopped = true;
  }

  /** Takes the list of what came away; what is kept stays. */
  clear(): void {
    if (!this.#isWorking) this.#files = [];
  }

  async #work(): Promise<void> {
    if (this.#isWorking) {
      this.#round += this.#files.filter(({ outcome }) => outcome.kind === 'waiting').length;
      return;
    }
    this.#isWorking = true;
    this.#isStopped = false;
    this.#round = this.#files.filter(({ outcome }) => outcome.kind === 'waiting').length;
    try {
      for (let next = this.#next(); next !== undefined; next = this.#next())
        if (this.#isStopped) this.#tell(next, { kind: 'stopped' });
        else await this.#takeFile(next, null);
    } finally {
      this.#isWorking = false;
    }
  }

  #next(): TakenFile | undefined {
    return this.#files.findLast(({ outcome }) => outcome.kind === 'waiting');
  }

  async #takeFile(file: TakenFile, passphrase: string | null): Promise<void> {
    this.#tell(file, { kind: 'working', share: 0 });
    const { sealing, stores, ontaken } = this.#parts;
    const pairs = await stores.exchange.keyPairs();
    const secretKeys = pairs.ok ? pairs.value.map(({ secretKey }) => secretKey) : [];
    const opening = await sealing.open(file.file, { secretKeys, passphrase });
    if (opening.kind === 'passphrase-asked')
      return this.#tell(file, { kind: 'passphrase-asked', isWrong: false });
    if (opening.kind === 'refused')
      return this.#tell(
        file,
        opening.problem.kind === 'wrong-passphrase' ? { kind: 'passphrase-asked', isWrong: true } : opening,
      );
    try {
      this.#tell(file, await this.#takeItems(file, opening.opened));
    } finally {
      opening.opened.close();
      ontaken?.();
    }
  }

  async #takeItems(file: TakenFile, opened: OpenedPackage): Promise<FileOutcome> {
    const { stores, moment } = this.#parts;
    const newestBefore = await newestVersions(stores.plans);
    if (!newestBefore.ok) return { kind: 'not-kept', problem: newestBefore.problem };
    const arrival = { fileName: file.file.name, cameAt: moment(), newestBefore: newestBefore.value };
    const counts = { ...NOTHING_TAKEN };
    let unreadable = 0;
    const { entries, label } = opened.manifest;
    // Plans before their days, records before their videos, whatever order they stand in.
    const places = ITEM_KINDS.flatMap((kind) =>
      entries.flatMap((entry, place) => (entry.kind === kind && kind !== 'table' ? [place] : [])),
    );
    for (const [index, place] of places.entries()) {
      if (this.#isStopped) return { kind: 'stopped' };
      const reading = await opened.item(place);
      if ('refused' in reading) return { kind: 'refused', problem: reading.refused };
      if (!reading.ok || reading.value === null) unreadable += 1;
      else {
        const taken = await takeItem(reading.value, arrival, stores);
        if (!taken.ok) return { kind: 'not-kept', problem: taken.problem };
        counts[taken.value] += 1;
      }
      this.#tell(file, { kind: 'working', share: (index + 1) / places.length });
    }
    return { kind: 'taken', label, counts, unreadable };
  }

  #tell({ key }: TakenFile, outcome: FileOutcome): void {
    this.#files = this.#files.map((each) => (each.key === key ? { ...each, outcome } : each));
  }
}
