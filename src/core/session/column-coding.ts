/*
 * How a series of whole numbers is stored: as its first value and then the differences, or as runs of equal values.
 */

/** A column as it is read back: whole steps, added up where they stand one by one, so many steps to the unit. */
export class ColumnReader {
  #sum = 0;
  #next = 0;
  readonly #steps: readonly number[];
  readonly #perUnit: number;

  constructor(steps: readonly number[], perUnit: number) {
    this.#steps = steps;
    this.#perUnit = perUnit;
  }

  /** The next value in its unit. Throws behind the last. */
  read(): number {
    this.#sum += at(this.#steps, this.#next++);
    return this.#sum / this.#perUnit;
  }
}

/** Cuts a column of differences into columns that each begin with their own first value. */
export class ColumnCutter {
  readonly #steps: readonly number[];
  #next = 0;
  #value = 0;

  constructor(steps: readonly number[]) {
    this.#steps = steps;
  }

  /** The next so many values as a column. */
  cut(count: number): number[] {
    const piece = this.#steps.slice(this.#next, this.#next + count);
    const [first] = piece;
    if (first === undefined) return piece;
    const before = this.#value;
    for (const step of piece) this.#value += step;
    piece[0] = before + first;
    this.#next += count;
    return piece;
  }
}

/** Number of values in runs. */
export function runLength(runs: readonly (readonly [number, unknown])[]): number {
  return runs.reduce((sum, [count]) => sum + count, 0);
}

/** Values in order as runs of equal ones: how many in a row, and the value. */
export function toRuns<Value>(values: readonly Value[]): [number, Value][] {
  const runs: [number, Value][] = [];
  for (const value of values) {
    const last = runs.at(-1);
    if (last !== undefined && isSame(last[1], value)) last[0] += 1;
    else runs.push([1, value]);
  }
  return runs;
}

/** Equal values, or pairs of equal values. */
function isSame(a: unknown, b: unknown): boolean {
  if (Array.isArray(a) && Array.isArray(b)) return a.every((item, index) => item === b[index]);
  return a === b;
}

/** The values of runs, one by one. */
export function fromRuns<Value>(runs: readonly (readonly [number, Value])[]): Value[] {
  return runs.flatMap(([count, value]) => new Array<Value>(count).fill(value));
}

/** Runs of pieces in order as the runs of all of them. */
export function joinRuns<Value>(
  pieces: readonly (readonly (readonly [number, Value])[])[],
): [number, Value][] {
  const runs: [number, Value][] = [];
  for (const [count, value] of pieces.flat()) {
    const last = runs.at(-1);
    if (last !== undefined && isSame(last[1], value)) last[0] += count;
    else runs.push([count, value]);
  }
  return runs;
}

/** The first value, then the differences. */
export function toDifferences<Item>(items: readonly Item[], valueOf: (item: Item) => number): number[] {
  let before = 0;
  return items.map((item) => {
    const value = valueOf(item);
    const step = value - before;
    before = value;
    return step;
  });
}

/** Columns of pieces in order as one column: each piece's first value becomes its difference to the last before. */
export function joinDifferences(pieces: readonly (readonly number[])[]): number[] {
  const joined: number[] = [];
  let last = 0;
  for (const piece of pieces) {
    let value = 0;
    for (const step of piece) value += step;
    const [first] = piece;
    if (first === undefined) continue;
    const start = joined.length;
    for (const step of piece) joined.push(step);
    joined[start] = first - last;
    last = value;
  }
  return joined;
}

/** The values behind their first one and its differences. */
export function toValues(steps: readonly number[]): number[] {
  let sum = 0;
  return steps.map((step) => (sum += step));
}

/** The nearest whole number, never -0, which JSON would not keep. */
export function whole(value: number): number {
  return Math.round(value) + 0;
}

/** The entry at a place. Throws where a series has none. */
export function at<Value>(values: readonly Value[], index: number): Value {
  const value = values[index];
  if (value === undefined) throw new Error(`A stored series ends before its entry ${index}.`);
  return value;
}
