/** How often the clock looks at the time, milliseconds: whole seconds are shown. */
const TICK_MS = 200;

/** The rest between two sets. It runs from the end of the set, never shortens by itself, and may be passed. */
export class RestClock {
  readonly #nowSeconds: () => number;
  readonly #onOver: () => void;
  #leftSeconds = $state<number | null>(null);
  #timer: ReturnType<typeof setInterval> | undefined;

  /** nowSeconds: a clock that only rises. onOver: called once when a rest has run its time. */
  constructor(nowSeconds: () => number, onOver: () => void) {
    this.#nowSeconds = nowSeconds;
    this.#onOver = onOver;
  }

  /** Whole seconds of rest that are left, 0 when it is over; null while nobody rests. */
  get leftSeconds(): number | null {
    return this.#leftSeconds;
  }

  /** Begins a rest. */
  start(restSeconds: number): void {
    this.stop();
    const endSeconds = this.#nowSeconds() + restSeconds;
    this.#leftSeconds = restSeconds;
    this.#timer = setInterval(() => {
      this.#leftSeconds = Math.max(0, Math.ceil(endSeconds - this.#nowSeconds()));
      if (this.#leftSeconds > 0) return;
      clearInterval(this.#timer);
      this.#onOver();
    }, TICK_MS);
  }

  /** Ends the rest, run out or not. */
  stop(): void {
    clearInterval(this.#timer);
    this.#leftSeconds = null;
  }
}
