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
  readonly p95: Figure;
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
    bias: bootstrapped(filled, (readings) => mean(readings.map(error))),
    meanAbsolute: bootstrapped(filled, (readings) =>
      mean(readings.map((reading) => Math.abs(error(reading)))),
    ),
    p95: bootstrapped(
      filled,
      (readings) =>
        quantile(
          readings.map((reading) => Math.abs(error(reading))),
          0.95,
        ) ?? 0,
    ),
    limits: [bias - Z95 * sd, bias + Z95 * sd],
    coverage: bootstrapped(filled, (readings) => mean(readings.map(holds))),
    halfWidth: median(all.map(({ low, high }) => (high - low) / 2)) ?? 0,
  };
}

/** A figure of readings, and its interval from sets drawn anew with replacement: percentiles, seeded. */
export function bootstrapped<Item>(
  sets: readonly (readonly Item[])[],
  figureOf: (items: readonly Item[]) => number,
  draws = DRAWS,
): Figure {
  const random = seededRandom(20_771);
  const drawn = Array.from({ length: draws }, () =>
    figureOf(sets.flatMap(() => sets[Math.floor(random() * sets.length)] ?? [])),
  );
  return {
    value: figureOf(sets.flat()),
    low: quantile(drawn, 0.025) ?? Number.NaN,
    high: quantile(drawn, 0.975) ?? Number.NaN,
  };
}
