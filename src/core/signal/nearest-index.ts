/** The place of the value nearest to a wanted one in a rising list, the earlier of two as near; 0 for an empty list. */
export function nearestIndex(rising: ArrayLike<number>, wanted: number): number {
  let low = 0;
  let high = Math.max(0, rising.length - 1);
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((rising[middle] ?? Infinity) < wanted) low = middle + 1;
    else high = middle;
  }
  const above = rising[low];
  const below = rising[low - 1];
  if (above !== undefined && below !== undefined && wanted - below <= above - wanted) return low - 1;
  return low;
}
