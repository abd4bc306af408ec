/** Median of values that come and go, as of a window that moves on. Finite values only. */
export class RunningMedian {
  readonly #sorted: number[] = [];

  add(value: number): void {
    this.#sorted.splice(this.#placeOf(value), 0, value);
  }

  /** Takes out a value that was added before. */
  remove(value: number): void {
    this.#sorted.splice(this.#placeOf(value), 1);
  }

  /** The median as in math/statistics.ts, or null without values. */
  get median(): number | null {
    const place = (this.#sorted.length - 1) / 2;
    const below = this.#sorted[Math.floor(place)];
    if (below === undefined) return null;
    const above = this.#sorted[Math.ceil(place)] ?? below;
    return below + (above - below) * (place - Math.floor(place));
  }

  /** Place of the first value that is not smaller. */
  #placeOf(value: number): number {
    let low = 0;
    let high = this.#sorted.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.#sorted[middle] ?? Infinity) < value) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
