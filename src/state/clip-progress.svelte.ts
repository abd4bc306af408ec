/** How far a clip has been measured. */
export interface ClipProgress {
  /** 0 to 1, or null where the clip does not say its length. */
  readonly share: number | null;
  readonly remainingSeconds: number | null;
}

/** Before this much of a clip is done the remaining time is a guess and is not shown, share. */
const LEAST_SHARE = 0.03;

/** Follows one clip at a time from its start to its end. */
export class ClipCourse {
  readonly #nowSeconds: () => number;
  #progress = $state.raw<ClipProgress | null>(null);
  #startSeconds: number | null = null;

  /** nowSeconds: a clock that only rises. */
  constructor(nowSeconds: () => number) {
    this.#nowSeconds = nowSeconds;
  }

  /** Null while no clip is measured. */
  get progress(): ClipProgress | null {
    return this.#progress;
  }

  begin(): void {
    this.#startSeconds = null;
    this.#progress = { share: null, remainingSeconds: null };
  }

  end(): void {
    this.#progress = null;
  }

  /** The share is of all workers together: pictures come in order, while other parts of the clip are measured ahead. */
  note(share: number): void {
    if (this.#progress === null) return;
    const nowSeconds = this.#nowSeconds();
    this.#startSeconds ??= nowSeconds;
    const spent = nowSeconds - this.#startSeconds;
    const remainingSeconds = share < LEAST_SHARE ? null : (spent * (1 - share)) / share;
    this.#progress = { share, remainingSeconds };
  }
}
