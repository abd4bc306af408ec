import { keepParcel } from '../core/consult/keep-parcel.ts';
import { CONSULT_LIMITS } from '../core/consult/limits.ts';
import {
  readParcel,
  readParcelMessage,
  takeParcelMessage,
  wholeParcel,
  type ComingParcel,
} from '../core/consult/parcel.ts';
import type { ParcelPacking } from '../core/consult/parcel-packing.ts';
import type { MessageProblem } from '../core/consult/read-message.ts';
import type { Stores } from '../core/exchange/take-item.ts';
import type { PassingState } from './parcel-sending.svelte.ts';

interface ParcelTakingParts {
  readonly packing: ParcelPacking;
  readonly loadStores: () => Promise<Stores>;
  /** The moment of the wall clock, with offset. */
  readonly moment: () => string;
  /** Tells the other side what became of a parcel. */
  readonly tell: (number: number, isKept: boolean) => void;
}

/** Takes in the records that the other side passes on, and keeps them like those of a package. */
export class ParcelTaking {
  readonly #parts: ParcelTakingParts;
  #coming: ComingParcel | null = null;
  #state = $state.raw<PassingState>({ kind: 'none' });
  #sessionId = $state<string | null>(null);
  #keeping: Promise<void> = Promise.resolve();
  #onlast: (() => void) | null = null;
  #hasLast = false;

  constructor(parts: ParcelTakingParts) {
    this.#parts = parts;
  }

  get state(): PassingState {
    return this.#state;
  }

  /** The session that was kept last; null before any. */
  get sessionId(): string | null {
    return this.#sessionId;
  }

  /** Takes a message of the parcels' channel; the problem where it is refused. */
  take(text: string): MessageProblem | null {
    const read = readParcelMessage(text);
    if (!read.ok) return read.problem;
    const taken = takeParcelMessage(this.#coming, read.value);
    if (!taken.ok) return taken.problem;
    this.#coming = taken.value;
    const { came, characters, number, isLast } = taken.value;
    this.#state = { kind: 'passing', share: came / characters };
    const packed = wholeParcel(taken.value);
    if (packed === null) return null;
    this.#coming = null;
    this.#keeping = this.#keeping.then(() => this.#keep(packed, number, isLast));
    return null;
  }

  /** Nothing more can come: what is on its way will not be whole. */
  lineIsGone(): void {
    this.#coming = null;
    if (this.#state.kind === 'passing') this.#state = { kind: 'not-kept' };
    this.#onlast?.();
  }

  /** Settles when the last parcel is kept, or nothing more can come. */
  async last(): Promise<void> {
    if (!this.#hasLast) await new Promise<void>((resolve) => (this.#onlast = resolve));
    await this.#keeping;
  }

  async #keep(packed: string, number: number, isLast: boolean): Promise<void> {
    const text = await this.#parts.packing.unpack(packed, CONSULT_LIMITS.parcelCharacters);
    const read = text === null ? null : readParcel(text);
    const { loadStores, moment } = this.#parts;
    const isKept = read?.ok === true && (await keepParcel(read.value, await loadStores(), moment()));
    if (read?.ok === true && isKept) this.#sessionId = read.value.record.id;
    // A later one may be on its way already.
    if (this.#coming === null) this.#state = { kind: isKept ? 'kept' : 'not-kept' };
    this.#parts.tell(number, isKept);
    if (!isLast) return;
    this.#hasLast = true;
    this.#onlast?.();
  }
}
