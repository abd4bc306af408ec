import { describe, expect, it } from 'vitest';
import { agreement, bootstrappedMean } from '../../yardstick/validation/agreement.ts';
import { rowSection } from '../../yardstick/validation/row-report.ts';
import { rowRule } from '../../yardstick/validation/row-rule.ts';
import type { RowSaying } from '../../yardstick/validation/set-figures.ts';

/*
 * First readings of peak flow by two meters, l/min: J. M. Bland, D. G. Altman, Lancet 1986;i:307-310, as quoted in the
 * data of public statistics packages. The paper prints -2.1 and 38.8 and, with two standard deviations, -79.7 to 75.5; in
 * full precision and with 1.96 these are -2.117647 and -78.097302 to 73.862007 (worked out again from the readings).
 */
const LARGE = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
const SMALL = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];

const peakFlow = LARGE.map((value, i) => ({
  value,
  truth: SMALL[i] ?? NaN,
  low: value - 30,
  high: value + 30,
}));

describe('agreement', () => {
  it('gives the published bias and limits', () => {
    const of = agreement(peakFlow.map((reading) => [reading]));
    expect(of?.bias.value).toBeCloseTo(-2.117647, 6);
    expect(of?.limits[0]).toBeCloseTo(-78.097302, 5);
    expect(of?.limits[1]).toBeCloseTo(73.862007, 5);
    // The paper's standard error of 9.4 gives an interval of -22.0 to 17.8; a bootstrap of 17 comes near it.
    expect(of?.bias.low).toBeGreaterThan(-24);
    expect(of?.bias.low).toBeLessThan(-15);
    expect(of?.bias.high).toBeGreaterThan(11);
    expect(of?.bias.high).toBeLessThan(20);
  });

  it('counts what lies inside the interval, and how wide it is', () => {
    const of = agreement([peakFlow]);
    const inside = LARGE.filter((value, i) => Math.abs(value - (SMALL[i] ?? NaN)) <= 30).length;
    expect(of?.coverage.value).toBeCloseTo(inside / 17, 9);
    expect(of?.halfWidth).toBe(30);
  });

  it('says nothing of nothing', () => {
    expect(agreement([[], []])).toBeNull();
  });

  it('draws sets, not readings: many readings of one set are worth one', () => {
    const few = bootstrappedMean([
      [0, 0, 0, 0],
      [10, 10, 10, 10],
    ]);
    expect(few.value).toBe(5);
    expect([few.low, few.high]).toEqual([0, 10]);
  });
});

const saying = (
  shoulderWorkShare: number,
  measured: RowSaying['measured'],
  said: boolean | null,
  side: RowSaying['side'] = 'right',
  yawBandDeg = 0,
): RowSaying => ({ shoulderWorkShare, measured, said, side, yawBandDeg });

describe('curl or row', () => {
  const sayings = [
    saying(0.1, { value: 0, low: 0, high: 0.2 }, false),
    saying(0.2, { value: 0.6, low: 0.5, high: 0.7 }, true),
    saying(0.5, { value: 0.6, low: 0.4, high: 0.7 }, true),
    saying(0.9, { value: 0.8, low: 0.7, high: 0.9 }, true, 'left', 30),
    saying(1, { notMeasured: 'gap' }, null, 'left', 30),
  ];

  it('is hit or missed outside the grey zone only, and nothing said is no answer', () => {
    const rule = rowRule(sayings, 0.4, 0.6);
    expect(rule).toMatchObject({ sensitivity: 1, specificity: 0.5, above: 1, below: 2, unsaid: 1 });
  });

  it('is told in tenths of the true share, the whole in the last, with the error of the measured one', () => {
    const lines = rowSection(sayings);
    // Repetitions, called dominant, not judged, bias, mean absolute error, inside the interval.
    expect(lines).toContain('| 90 % to 100 % | 2 | 1 | 1 | -10 % | 10 % | 100 % |');
    expect(lines).toContain('| 20 % to 30 % | 1 | 1 | 0 | 40 % | 40 % | 0 % |');
  });

  it('is told by the view from either side', () => {
    const lines = rowSection(sayings);
    expect(lines).toContain('| 0°, right side | 3 | 0 % | none of 0 | 50 % of 2 | 13 % | 20 % | 67 % |');
    expect(lines).toContain('| 30°, left side | 2 | 50 % | 100 % of 1 | none of 0 | -10 % | 10 % | 100 % |');
  });
});
