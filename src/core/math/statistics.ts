/** The value held within low and high. */
export function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}

/**
 * Quantile by linear interpolation between order statistics (Hyndman & Fan 1996, type 7), q from 0 to 1;
 * null of an empty list.
 */
export function quantile(values: readonly number[], q: number): number | null {
  const sorted = Float64Array.from(values).sort();
  if (sorted.length === 0) return null;
  const place = clamp(q, 0, 1) * (sorted.length - 1);
  const below = sorted[Math.floor(place)] ?? 0;
  const above = sorted[Math.ceil(place)] ?? below;
  return below + (above - below) * (place - Math.floor(place));
}

/** Median, or null of an empty list. */
export function median(values: readonly number[]): number | null {
  return quantile(values, 0.5);
}

/** A value and how much it counts, weight at least 0. */
export interface Weighted {
  readonly value: number;
  readonly weight: number;
}

/** Mean of weighted values, or null when no weight is above 0. */
export function weightedMean(items: readonly Weighted[]): number | null {
  let sum = 0;
  let weights = 0;
  for (const { value, weight } of items) {
    sum += value * weight;
    weights += weight;
  }
  return weights > 0 ? sum / weights : null;
}

/** Table value by linear interpolation over rising xs; held at the ends. Xs and ys are of one length, at least 1. */
export function interpolateTable(xs: readonly number[], ys: readonly number[], x: number): number {
  const last = xs.length - 1;
  for (let i = 0; i < last; i++) {
    const x0 = xs[i] ?? 0;
    const x1 = xs[i + 1] ?? x0;
    if (x > x1 && i + 1 < last) continue;
    const share = x1 > x0 ? clamp((x - x0) / (x1 - x0), 0, 1) : 0;
    return (ys[i] ?? 0) + ((ys[i + 1] ?? 0) - (ys[i] ?? 0)) * share;
  }
  return ys[last] ?? 0;
}
