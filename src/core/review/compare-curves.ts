import type { Span } from '../exercises/judgement.ts';
import { longestBridgedStep, measuredRateHz } from '../signal/resample.ts';

/** A curve has a value at each whole per cent of the repetition or hold, 0 and 100 among them. */
export const CURVE_POINTS = 101;

/** A value for each per cent; null where it was not measured. */
export type Curve = readonly (number | null)[];

/** The mean of several curves, and how they scatter about it. */
export interface MeanCurve {
  readonly mean: Curve;
  /** Standard deviation between the curves (of a sample, n - 1); null with fewer than two values. */
  readonly sd: Curve;
  /** How many curves have a value there. */
  readonly count: readonly number[];
}

/**
 * A measure over 0 to 100 % of a span: linearly between the frames, null where one of them was not measured (NaN) or the
 * gap between them is longer than measuring bridges (signal/resample.ts).
 * @param timesSeconds - rising, one for each value
 */
export function curveOver(
  timesSeconds: Float64Array,
  values: Float64Array,
  { startSeconds, endSeconds }: Pick<Span, 'startSeconds' | 'endSeconds'>,
): Curve {
  const longestStep = longestBridgedStep(measuredRateHz([...timesSeconds]) ?? Infinity);
  let after = 0;
  return Array.from({ length: CURVE_POINTS }, (_, percent) => {
    const at = startSeconds + ((endSeconds - startSeconds) * percent) / (CURVE_POINTS - 1);
    while (after < timesSeconds.length && (timesSeconds[after] ?? Infinity) < at) after++;
    return valueAt({ timesSeconds, values, longestStep }, after, at);
  });
}

interface Sampled {
  readonly timesSeconds: Float64Array;
  readonly values: Float64Array;
  readonly longestStep: number;
}

/** after: the first frame that is not before the moment. */
function valueAt({ timesSeconds, values, longestStep }: Sampled, after: number, at: number): number | null {
  const [t1, v1] = [timesSeconds[after], values[after]];
  if (t1 === undefined || v1 === undefined) return null;
  if (t1 === at) return Number.isNaN(v1) ? null : v1;
  const [t0, v0] = [timesSeconds[after - 1], values[after - 1]];
  if (t0 === undefined || v0 === undefined || t1 - t0 > longestStep + 1e-9) return null;
  const value = v0 + ((v1 - v0) * (at - t0)) / (t1 - t0);
  return Number.isNaN(value) ? null : value;
}

/**
 * Mean and spread of curves, per cent by per cent. Where fewer than half of the curves were measured nothing is said: a mean
 * over the few would jump with whichever of them is there.
 */
export function meanCurve(curves: readonly Curve[]): MeanCurve {
  const points = Array.from({ length: CURVE_POINTS }, (_, percent) => {
    const values = curves.flatMap((curve) => curve[percent] ?? []);
    const isEnough = values.length > 0 && 2 * values.length >= curves.length;
    return { count: values.length, ...(isEnough ? spreadOf(values) : { mean: null, sd: null }) };
  });
  return {
    mean: points.map(({ mean }) => mean),
    sd: points.map(({ sd }) => sd),
    count: points.map(({ count }) => count),
  };
}

/** Mean and standard deviation (of a sample) of values; null where there are too few. */
export function spreadOf(values: readonly number[]): {
  readonly mean: number | null;
  readonly sd: number | null;
} {
  const count = values.length;
  if (count === 0) return { mean: null, sd: null };
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return { mean, sd: count < 2 ? null : Math.sqrt(squares / (count - 1)) };
}
