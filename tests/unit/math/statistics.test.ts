import { describe, expect, it } from 'vitest';
import {
  clamp,
  interpolateTable,
  median,
  quantile,
  weightedMean,
} from '../../../src/core/math/statistics.ts';

describe('statistics', () => {
  it('interpolates quantiles as type 7 of Hyndman and Fan (1996)', () => {
    // Type 7 of 1, 2, 3, 4 at 0.25: 1 + 0.75, by the paper's definition (n - 1) p + 1.
    expect(quantile([4, 1, 3, 2], 0.25)).toBe(1.75);
    expect(quantile([4, 1, 3, 2], 1)).toBe(4);
    expect(median([5, 1, 9])).toBe(5);
    expect(quantile([], 0.5)).toBeNull();
  });

  it('weighs a mean, and gives null without weight', () => {
    expect(
      weightedMean([
        { value: 1, weight: 1 },
        { value: 4, weight: 2 },
      ]),
    ).toBe(3);
    expect(weightedMean([{ value: 1, weight: 0 }])).toBeNull();
  });

  it.each([
    [-5, 1],
    [0, 1],
    [5, 2],
    [10, 3],
    [15, 3.5],
    [99, 4],
  ])('reads a table at %d as %d, held at its ends', (x, y) => {
    expect(interpolateTable([0, 10, 20], [1, 3, 4], x)).toBeCloseTo(y, 12);
  });

  it('holds a value within bounds', () => {
    expect([clamp(-1, 0, 2), clamp(1, 0, 2), clamp(3, 0, 2)]).toEqual([0, 1, 2]);
  });
});
