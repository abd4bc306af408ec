import { describe, expect, it } from 'vitest';
import { doublePassLowPass, zeroLagLowPass } from '../../../src/core/signal/butterworth.ts';

/**
 * Coefficients by Winter's formula (Biomechanics and Motor Control of Human Movement, 4th ed., p. 69) with the
 * double-pass correction on the tangent frequency; the third check, that they equal a single-pass design at the
 * stated frequency, was computed independently with scipy.signal.butter.
 */
const PUBLISHED = [
  { rateHz: 30, a0: 0.26449377, a1: 0.52898755, b1: 0.11597653, b2: -0.17395162 },
  { rateHz: 60, a0: 0.09444674, a1: 0.18889349, b1: 0.96264131, b2: -0.34042828 },
  { rateHz: 100, a0: 0.04059468, a1: 0.08118936, b1: 1.35474882, b2: -0.51712754 },
];

/** Amplitude of a long sine after filtering, from its middle third. */
function gainAt(hz: number, cutoffHz: number, rateHz: number): number {
  const samples = Array.from({ length: 60 * rateHz }, (_, i) => Math.sin((2 * Math.PI * hz * i) / rateHz));
  const filtered = zeroLagLowPass(samples, cutoffHz, rateHz);
  const middle = filtered.slice(20 * rateHz, 40 * rateHz);
  return Math.sqrt((2 * middle.reduce((sum, y) => sum + y * y, 0)) / middle.length);
}

describe('zero-lag Butterworth low-pass', () => {
  it.each(PUBLISHED)(
    'has the published coefficients for 6 Hz at $rateHz Hz',
    ({ rateHz, a0, a1, b1, b2 }) => {
      const c = doublePassLowPass(6, rateHz);
      expect(c.a0).toBeCloseTo(a0, 7);
      expect(c.a1).toBeCloseTo(a1, 7);
      expect(c.a2).toBeCloseTo(a0, 7);
      expect(c.b1).toBeCloseTo(b1, 7);
      expect(c.b2).toBeCloseTo(b2, 7);
      expect(c.a0 + c.a1 + c.a2 + c.b1 + c.b2).toBeCloseTo(1, 12);
    },
  );

  it.each([30, 60, 100])('halves the power at the cut-off after both passes, at %d Hz', (rateHz) => {
    // 0.7071 by definition of the cut-off; without the correction it would be 0.5 (Winter).
    expect(gainAt(6, 6, rateHz)).toBeCloseTo(Math.SQRT1_2, 3);
  });

  it('shifts nothing in time', () => {
    const bump = Array.from({ length: 301 }, (_, i) => Math.exp(-(((i - 150) / 12) ** 2)));
    const filtered = zeroLagLowPass(bump, 3, 30);
    expect(filtered.indexOf(Math.max(...filtered))).toBe(150);
    for (let k = 1; k <= 60; k++) expect(filtered[150 - k]).toBeCloseTo(filtered[150 + k] ?? NaN, 9);
  });

  it('leaves a straight movement straight to its very ends', () => {
    const ramp = Array.from({ length: 40 }, (_, i) => 5 + 2 * i);
    zeroLagLowPass(ramp, 6, 30).forEach((y, i) => expect(y).toBeCloseTo(5 + 2 * i, 4));
  });

  it.each([0, 1, 2, 3, 4])('copes with a stretch of %d samples', (length) => {
    const samples = Array.from({ length }, (_, i) => i);
    const filtered = zeroLagLowPass(samples, 6, 30);
    expect(filtered).toHaveLength(length);
    expect(filtered.every(Number.isFinite)).toBe(true);
  });

  it.each([
    [0, 30],
    [15, 30],
    [20, 30],
  ])('refuses a cut-off of %d Hz at %d Hz', (cutoffHz, rateHz) => {
    expect(() => doublePassLowPass(cutoffHz, rateHz)).toThrow(RangeError);
  });
});
