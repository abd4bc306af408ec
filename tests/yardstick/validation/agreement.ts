import { median, quantile } from '../../../src/core/math/statistics.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';
import type { Reading } from './set-figures.ts';

/** A figure with the 95 % interval that its sets give. */
export interface Figure {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** How readings agree with the truth, in their unit; null where there are none. */
export interface Agreement {
  readonly sets: number;
  readonly bias: Figure;
  readonly meanAbsolute: Figure;
  /** 95th percentile of the absolute differences. */
  readonly p95: number;
  /** Bias less and plus 1.96 standard deviations of the differences: Bland and Altman, Lancet 1986;i:307-310. */
  readonly limits: readonly [number, number];
  /** Share of readings whose 95 % interval holds the truth. */
  readonly coverage: Figure;
  /** Median half-width of the intervals. */
  readonly halfWidth: number;
}

const DRAWS = 1000;
/** Two-sided 95 % of a normal distribution. */
const Z95 = 1.96;

const error = ({ value, truth }: Reading): number => value - truth;
const holds = ({ low, high, truth }: Reading): number => (low <= truth && truth <= high ? 1 : 0);
const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

/**
 * Agreement of sets of readings. The readings of one set stand and fall together, so its sets are what is drawn anew
 * for the intervals (bootstrap of clusters); each set counts by its readings.
 */
export function agreement(sets: readonly (readonly Reading[])[]): Agreement | null {
  const filled = sets.filter((readings) => readings.length > 0);
  const all = filled.flat();
  if (all.length === 0) return null;
  const bias = mean(all.map(error));
  const sd = Math.sqrt(
    all.reduce((sum, reading) => sum + (error(reading) - bias) ** 2, 0) / Math.max(1, all.length - 1),
  );
  return {
    sets: filled.length,
    bias: bootstrappedMean(filled.map((readings) => readings.map(error))),
    meanAbsolute: bootstrappedMean(
      filled.map((readings) => readings.map((reading) => Math.abs(error(reading)))),
    ),
    p95:
      quantile(
        all.map((reading) => Math.abs(error(reading))),
        0.95,
      ) ?? 0,
    limits: [bias - Z95 * sd, bias + Z95 * sd],
    coverage: bootstrappedMean(filled.map((readings) => readings.map(holds))),
    halfWidth: median(all.map(({ low, high }) => (high - low) / 2)) ?? 0,
  };
}

/** Mean size of differences, 0 of none. */
export function meanAbsolute(differences: readonly number[]): number {
  return mean(differences.map(Math.abs));
}

/** What the items of one set add to a mean. */
interface Part {
  readonly sum: number;
  readonly count: number;
}

/** A mean over the items of sets, and its interval from sets drawn anew with replacement: percentiles, seeded. */
export function bootstrappedMean(sets: readonly (readonly number[])[]): Figure {
  const parts = sets.map((values): Part => ({
    sum: values.reduce((sum, value) => sum + value, 0),
    count: values.length,
  }));
  const meanOf = (drawn: readonly Part[]): number =>
    drawn.reduce((sum, part) => sum + part.sum, 0) / drawn.reduce((sum, part) => sum + part.count, 0);
  const random = seededRandom(20_771);
  const means = Array.from({ length: DRAWS }, () =>
    meanOf(parts.flatMap(() => parts[Math.floor(random() * parts.length)] ?? [])),
  );
  return {
    value: meanOf(parts),
    low: quantile(means, 0.025) ?? Number.NaN,
    high: quantile(means, 0.975) ?? Number.NaN,
  };
}
