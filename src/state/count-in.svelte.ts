/** Counts whole seconds down to the start of a set. */
export class CountIn {
  #secondsLeft = $state(0);
  #timer: ReturnType<typeof setInterval> | undefined;

  /** Whole seconds until the set starts; 0 while nothing is counted. */
  get secondsLeft(): number {
    return this.#secondsLeft;
  }

  /** onSecond: called with the seconds that are left, while there are any. onOver: called once at the end. */
  start(seconds: number, onSecond: (secondsLeft: number) => void, onOver: () => void): void {
    this.stop();
    this.#secondsLeft = seconds;
    this.#timer = setInterval(() => {
      this.#secondsLeft -= 1;
      if (this.#secondsLeft > 0) return onSecond(this.#secondsLeft);
      this.stop();
      onOver();
    }, 1000);
  }

  stop(): void {
    clearInterval(this.#timer);
    this.#secondsLeft = 0;
  }
}
