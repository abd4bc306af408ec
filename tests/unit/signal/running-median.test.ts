import { describe, expect, it } from 'vitest';
import { median } from '../../../src/core/math/statistics.ts';
import { RunningMedian } from '../../../src/core/signal/running-median.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';

describe('the median of a window that moves on', () => {
  it('is that of the values in the window, equal ones included', () => {
    const random = seededRandom(5);
    // Few different values, so that equal ones come and go.
    const values = Array.from({ length: 400 }, () => Math.round(random() * 20));
    const running = new RunningMedian();
    values.forEach((value, index) => {
      running.add(value);
      if (index >= 31) running.remove(values[index - 31] ?? Number.NaN);
      expect(running.median).toBe(median(values.slice(Math.max(0, index - 30), index + 1)));
    });
  });

  it('is none without values', () => {
    const running = new RunningMedian();
    expect(running.median).toBeNull();
    running.add(3);
    running.remove(3);
    expect(running.median).toBeNull();
  });
});
