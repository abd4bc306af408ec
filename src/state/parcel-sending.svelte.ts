import { parcelMessages, parcelText, type Parcel, type ParcelMessage } from '../core/consult/parcel.ts';
import type { ParcelPacking } from '../core/consult/parcel-packing.ts';

/** How often the line is asked whether it takes more, milliseconds: at most so many parts a second keep 1 MB/s. */
const PUMP_MS = 10;

interface Waiting {
  readonly parcel: Parcel;
  readonly isLast: boolean;
}

/** What became of the record on its way to the other side. kept: all of it is kept there. not-kept: it could not be kept there. */
export type PassingState =
  | { readonly kind: 'none' }
  | { readonly kind: 'passing'; readonly share: number }
  | { readonly kind: 'kept' }
  | { readonly kind: 'not-kept' };

interface ParcelSendingParts {
  readonly packing: ParcelPacking;
  /** False where the line takes nothing now. */
  readonly send: (message: ParcelMessage) => boolean;
}

/**
 * Passes records on, one after another, as fast as the line takes them without making figures wait. A newer state of a session takes the
 * place of an older one that is still on its way.
 */
export class ParcelSending {
  readonly #parts: ParcelSendingParts;
  #waiting: Waiting[] = [];
  #current: (Waiting & { readonly number: number; readonly messages: readonly ParcelMessage[] }) | null =
    null;
  #sent = 0;
  #number = 0;
  #isPacking = false;
  #pump: ReturnType<typeof setInterval> | undefined;
  #state = $state.raw<PassingState>({ kind: 'none' });
  #onidle: (() => void)[] = [];

  constructor(parts: ParcelSendingParts) {
    this.#parts = parts;
  }

  get state(): PassingState {
    return this.#state;
  }

  /** Passes a record on. isLast: nothing comes after it. */
  pass(parcel: Parcel, isLast: boolean): void {
    const isOther = (one: Waiting): boolean => one.parcel.record.id !== parcel.record.id;
    this.#waiting = [...this.#waiting.filter(isOther), { parcel, isLast }];
    if (this.#current !== null && !isOther(this.#current)) this.#current = null;
    void this.#next();
  }

  /** A new line: what was on its way begins anew. */
  again(): void {
    this.#sent = 0;
    void this.#next();
  }

  /** The other side says what became of a parcel. */
  noteKept(number: number, isKept: boolean): void {
    if (this.#current?.number !== number) return;
    this.#current = null;
    this.#state = { kind: isKept ? 'kept' : 'not-kept' };
    void this.#next();
  }

  /** Passes nothing on any more. */
  stop(): void {
    clearInterval(this.#pump);
    this.#waiting = [];
    this.#current = null;
    if (this.#state.kind === 'passing') this.#state = { kind: 'not-kept' };
    this.#rest();
  }

  /** Settles when nothing is on its way any more. */
  idle(): Promise<void> {
    return this.#isIdle ? Promise.resolve() : new Promise((resolve) => this.#onidle.push(resolve));
  }

  get #isIdle(): boolean {
    return this.#current === null && this.#waiting.length === 0 && !this.#isPacking;
  }

  #rest(): void {
    for (const tell of this.#onidle.splice(0)) tell();
  }

  async #next(): Promise<void> {
    clearInterval(this.#pump);
    if (this.#isPacking) return;
    if (this.#current === null) {
      const next = this.#waiting.shift();
      if (next === undefined) return this.#rest();
      this.#isPacking = true;
      const packed = await this.#parts.packing.pack(parcelText(next.parcel));
      this.#isPacking = false;
      const isOld = this.#waiting.some(({ parcel }) => parcel.record.id === next.parcel.record.id);
      if (isOld) return this.#next();
      this.#number += 1;
      const messages = parcelMessages(packed, this.#number, next.isLast);
      this.#current = { ...next, number: this.#number, messages };
      this.#sent = 0;
    }
    this.#state = { kind: 'passing', share: 0 };
    this.#pump = setInterval(() => this.#sendSome(), PUMP_MS);
  }

  #sendSome(): void {
    const messages = this.#current?.messages ?? [];
    for (let message = messages[this.#sent]; message !== undefined; message = messages[this.#sent]) {
      if (!this.#parts.send(message)) break;
      this.#sent += 1;
    }
    if (messages.length > 0) this.#state = { kind: 'passing', share: this.#sent / messages.length };
    // What the other side says of it is waited for; the line may break until then.
    if (this.#sent === messages.length) clearInterval(this.#pump);
  }
}
