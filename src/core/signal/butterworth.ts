/** Coefficients of one pass: y[n] = a0 x[n] + a1 x[n-1] + a2 x[n-2] + b1 y[n-1] + b2 y[n-2]; they sum to 1. */
export interface LowPassCoefficients {
  readonly a0: number;
  readonly a1: number;
  readonly a2: number;
  readonly b1: number;
  readonly b2: number;
}

/** Correction of the tangent frequency for two passes of a second-order filter: (2^(1/2) - 1)^(1/4) = 0.8022. */
const DOUBLE_PASS = (Math.SQRT2 - 1) ** 0.25;

/** Reflected samples at each end, in periods of the cut-off: the start-up transient has died out by then. */
const PADDING_PERIODS = 3;

/**
 * Second-order Butterworth low-pass for use in two passes, forward and back, so that the gain of both together is
 * 0.7071 at the cut-off. Throws a RangeError unless 0 < cutoffHz < rateHz / 2.
 * Source: Winter, Biomechanics and Motor Control of Human Movement, 4th ed., p. 69.
 */
export function doublePassLowPass(cutoffHz: number, rateHz: number): LowPassCoefficients {
  if (!(cutoffHz > 0 && cutoffHz < rateHz / 2)) {
    throw new RangeError(
      `doublePassLowPass: cutoffHz ${cutoffHz} must lie between 0 and half of rateHz ${rateHz}.`,
    );
  }
  const wc = Math.tan((Math.PI * cutoffHz) / rateHz) / DOUBLE_PASS;
  const k1 = Math.SQRT2 * wc;
  const k2 = wc * wc;
  const a0 = k2 / (1 + k1 + k2);
  const k3 = (2 * a0) / k2;
  return { a0, a1: 2 * a0, a2: a0, b1: k3 - 2 * a0, b2: 1 - 2 * a0 - k3 };
}

/** One pass over the values in place, starting as if the first value had stood for ever. */
function pass(values: Float64Array, c: LowPassCoefficients): void {
  const first = values[0] ?? 0;
  let [x1, x2, y1, y2] = [first, first, first, first];
  for (let i = 0; i < values.length; i++) {
    const x0 = values[i] ?? 0;
    const y0 = c.a0 * x0 + c.a1 * x1 + c.a2 * x2 + c.b1 * y1 + c.b2 * y2;
    values[i] = y0;
    [x2, x1, y2, y1] = [x1, x0, y1, y0];
  }
}

/**
 * Zero-lag low-pass of uniformly sampled values: a pass forward and one back, the ends padded by point reflection so
 * that a movement under way at the end of a stretch is not pulled flat. Same length as the input; stretches of fewer
 * than three samples come back as they are.
 */
export function zeroLagLowPass(samples: readonly number[], cutoffHz: number, rateHz: number): number[] {
  const n = samples.length;
  if (n < 3) return [...samples];
  const coefficients = doublePassLowPass(cutoffHz, rateHz);
  const pad = Math.min(n - 1, Math.ceil((PADDING_PERIODS * rateHz) / cutoffHz));
  const first = samples[0] ?? 0;
  const last = samples[n - 1] ?? 0;
  const padded = new Float64Array(n + 2 * pad);
  for (let i = 0; i < pad; i++) {
    padded[pad - 1 - i] = 2 * first - (samples[i + 1] ?? first);
    padded[pad + n + i] = 2 * last - (samples[n - 2 - i] ?? last);
  }
  padded.set(samples, pad);
  pass(padded, coefficients);
  padded.reverse();
  pass(padded, coefficients);
  padded.reverse();
  return Array.from(padded.subarray(pad, pad + n));
}
