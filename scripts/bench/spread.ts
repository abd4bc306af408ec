import { quantile } from '../../src/core/math/statistics.ts';

/** What a table shows of many values. */
export interface Spread {
  readonly median: number;
  readonly p95: number;
}

/** Median and 95th percentile; NaN of none. */
export function spreadOf(values: readonly number[]): Spread {
  return { median: quantile(values, 0.5) ?? Number.NaN, p95: quantile(values, 0.95) ?? Number.NaN };
}
