/** The value below which the given share of the values lies; NaN without values. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

/** The middle value; NaN without values. */
export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}
