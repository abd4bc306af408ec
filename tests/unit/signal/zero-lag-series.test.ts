import { describe, expect, it } from 'vitest';
import { derivative } from '../../../src/core/signal/derivative.ts';
import { stepHysteresis } from '../../../src/core/signal/hysteresis.ts';
import { measuredRateHz, resampleStretches, sampleStretch } from '../../../src/core/signal/resample.ts';
import { recordCutoffHz, zeroLagSeries } from '../../../src/core/signal/zero-lag-series.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';

const series = (times: readonly number[], of: (t: number) => number | null) =>
  times.map((timeSeconds) => ({ timeSeconds, value: of(timeSeconds) }));
const every = (stepSeconds: number, count: number, from = 0) =>
  Array.from({ length: count }, (_, i) => from + i * stepSeconds);

describe('series with their own times', () => {
  it('cut off at 6 Hz, or at a quarter of a slow rate', () => {
    expect(recordCutoffHz(30)).toBe(6);
    expect(recordCutoffHz(20)).toBe(5);
    expect(recordCutoffHz(5)).toBe(1.25);
  });

  it('never bridge a gap longer than 0.25 s, and pass over a shorter one', () => {
    const times = [...every(0.05, 10), ...every(0.05, 10, 0.7), ...every(0.05, 10, 1.51)];
    const stretches = resampleStretches(
      series(times, (t) => t),
      20,
    );
    // 0.45 to 0.70 is 0.25 s: passed over. 1.15 to 1.51 is longer: a gap.
    expect(stretches.map((stretch) => stretch.startSeconds)).toEqual([0, 1.51]);
  });

  it('give nothing inside a gap and are not bent by what lies beyond it', () => {
    const times = every(1 / 30, 90);
    const withGap = series(times, (t) => (t > 0.99 && t < 1.5 ? null : t < 1 ? 10 : 80));
    const filtered = zeroLagSeries(withGap, 30);
    filtered.forEach((value, i) => {
      const t = times[i] ?? 0;
      if (t > 0.99 && t < 1.5) expect(value).toBeNull();
      else expect(value).toBeCloseTo(t < 1 ? 10 : 80, 9);
    });
  });

  it('come back at their own, uneven times', () => {
    const random = seededRandom(3);
    const times = every(1 / 30, 200).map((t) => t + 0.008 * random());
    const wave = (t: number) => 60 + 50 * Math.sin(2 * Math.PI * 0.3 * t);
    zeroLagSeries(series(times, wave), measuredRateHz(times) ?? NaN).forEach((value, i) => {
      expect(Math.abs((value ?? NaN) - wave(times[i] ?? 0))).toBeLessThan(0.3);
    });
  });

  it('keep a single value between gaps as it is', () => {
    const lone = [
      { timeSeconds: 0, value: null },
      { timeSeconds: 0.5, value: 42 },
      { timeSeconds: 1, value: null },
    ];
    expect(zeroLagSeries(lone, 30)).toEqual([null, 42, null]);
  });

  it('say nothing outside a stretch', () => {
    const stretch = { startSeconds: 1, rateHz: 10, values: [0, 1, 2] };
    expect(sampleStretch(stretch, 0.99)).toBeNull();
    expect(sampleStretch(stretch, 1.21)).toBeNull();
    expect(sampleStretch(stretch, 1.15)).toBeCloseTo(1.5, 9);
  });
});

describe('derivative', () => {
  it('is exact for a constant acceleration with uneven steps', () => {
    const rates = derivative(
      series([0, 0.1, 0.15, 0.4], (t) => 3 * t * t),
      1,
    );
    expect(rates[1]).toBeCloseTo(0.6, 9);
    expect(rates[2]).toBeCloseTo(0.9, 9);
  });

  it('does not reach across a gap', () => {
    const rates = derivative(
      series([0, 0.1, 2, 2.1, 5], (t) => (t < 1 ? 10 * t : 100 + t)),
      0.25,
    );
    expect(rates[1]).toBeCloseTo(10, 9);
    expect(rates[2]).toBeCloseTo(1, 9);
    expect(rates[4]).toBeNull();
  });
});

describe('stepHysteresis', () => {
  it('stays as it was between its levels, and with a value that is none', () => {
    const levels = { on: 10, off: 5 };
    let on = false;
    const seen = [4, 9, 10, 7, 5, 4.9, 9].map((value) => (on = stepHysteresis(on, value, levels)));
    expect(seen).toEqual([false, false, true, true, true, false, false]);
    expect(stepHysteresis(true, NaN, levels)).toBe(true);
    expect(() => stepHysteresis(true, 1, { on: 1, off: 2 })).toThrow(RangeError);
  });
});
