/** Something with a time. */
interface Timed {
  readonly timeSeconds: number;
}

/**
 * The latest values of a series, in order. It is a value: adding to it gives a new one and leaves the old as it was.
 * The two share their memory, so that a step costs what it adds and not what is kept.
 */
export interface Recent<Value extends Timed> {
  /** Places from `from` up to but without `to` belong to this value; what stands beside them is others'. */
  readonly shared: Value[];
  readonly from: number;
  readonly to: number;
}

/** Fewer forgotten values than this are not worth a copy. */
const LEAST_FORGOTTEN = 256;

/** Nothing kept yet. */
export function nothingRecent<Value extends Timed>(): Recent<Value> {
  return { shared: [], from: 0, to: 0 };
}

/** What is kept with more values behind it, and without those before a time, seconds. */
export function addRecent<Value extends Timed>(
  { shared, from, to }: Recent<Value>,
  added: readonly Value[],
  oldestSeconds: number,
): Recent<Value> {
  let first = from;
  while (first < to && (shared[first]?.timeSeconds ?? oldestSeconds) < oldestSeconds) first++;
  // Somebody else has added behind this value, or most of the memory holds what was forgotten: on with a copy.
  const isShared = shared.length === to && first <= Math.max(LEAST_FORGOTTEN, to - first);
  const kept = isShared ? shared : shared.slice(first, to);
  if (!isShared) first = 0;
  kept.push(...added);
  return { shared: kept, from: first, to: kept.length };
}

/** The kept values as a list, oldest first. */
export function valuesOf<Value extends Timed>({ shared, from, to }: Recent<Value>): readonly Value[] {
  return shared.slice(from, to);
}

/** The last kept value that fulfils a condition, or undefined. */
export function findLastRecent<Value extends Timed>(
  { shared, from, to }: Recent<Value>,
  fulfils: (value: Value) => boolean,
): Value | undefined {
  for (let i = to - 1; i >= from; i--) {
    const value = shared[i];
    if (value !== undefined && fulfils(value)) return value;
  }
  return undefined;
}
