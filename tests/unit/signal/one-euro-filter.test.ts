import { describe, expect, it } from 'vitest';
import { OneEuroFilter } from '../../../src/core/signal/one-euro-filter.ts';

/**
 * Reference run of the authors (groundTruth.csv of the One Euro filter's repository; Casiez, Roussel, Vogel, CHI 2012):
 * 120 Hz, minimum cut-off 1 Hz, beta 0.1, derivative cut-off 1 Hz. Time, noisy, filtered.
 */
const REFERENCE = [
  [0, -0.0385099, -0.0385099],
  [0.00833333, -0.0280664, -0.0379872],
  [0.0166667, 0.048622, -0.0334427],
  [0.025, 0.111498, -0.0252696],
  [0.0333333, 0.053026, -0.0207099],
  [0.0416667, 0.120548, -0.0119912],
  [0.05, 0.00972308, -0.0106507],
  [0.0583333, 0.074193, -0.00526521],
] as const;

const settings = { minCutoffHz: 1, beta: 0.1, derivativeCutoffHz: 1 };

describe('OneEuroFilter', () => {
  it("follows the authors' reference run", () => {
    const filter = new OneEuroFilter(settings);
    // The reference file prints times to six digits but was computed at exactly 120 Hz.
    REFERENCE.forEach(([, noisy, filtered], i) => {
      expect(Math.abs(filter.apply(noisy, i / 120) - filtered)).toBeLessThan(3e-7);
    });
  });

  it('keeps its value when time stands still or runs back, and goes on from there', () => {
    const filter = new OneEuroFilter(settings);
    filter.apply(1, 0);
    const value = filter.apply(2, 0.1);
    expect(filter.apply(9, 0.1)).toBe(value);
    expect(filter.apply(9, 0.05)).toBe(value);
    expect(filter.apply(2, 0.2)).toBeGreaterThan(value);
  });

  it('lets the first value after a reset through', () => {
    const filter = new OneEuroFilter(settings);
    filter.apply(1, 0);
    filter.apply(2, 0.1);
    filter.reset();
    expect(filter.apply(7, 0.2)).toBe(7);
  });

  it('comes to the same place with uneven steps as with even ones, within a tenth of a step response', () => {
    const even = new OneEuroFilter({ ...settings, beta: 0 });
    const uneven = new OneEuroFilter({ ...settings, beta: 0 });
    even.apply(0, 0);
    uneven.apply(0, 0);
    let [a, b] = [0, 0];
    for (let i = 1; i <= 30; i++) a = even.apply(1, i / 30);
    for (let i = 1; i <= 30; i++) b = uneven.apply(1, (i + (i % 2 ? 0.3 : 0)) / 30);
    expect(Math.abs(a - b)).toBeLessThan(0.01);
  });
});
