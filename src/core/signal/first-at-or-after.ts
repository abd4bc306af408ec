/** Place of the first item at or after a time in a list in order of time; the list's length when there is none. */
export function firstAtOrAfter(
  items: readonly { readonly timeSeconds: number }[],
  timeSeconds: number,
): number {
  let low = 0;
  let high = items.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((items[middle]?.timeSeconds ?? Infinity) < timeSeconds) low = middle + 1;
    else high = middle;
  }
  return low;
}
