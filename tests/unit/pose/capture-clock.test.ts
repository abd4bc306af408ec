import { describe, expect, it } from 'vitest';
import { CaptureClock } from '../../../src/core/pose/capture-clock.ts';

/** Pictures every 33 ms on a camera's clock that started at 5000 ms of ours; each arrives after its own delay. */
function latencies(delaysMs: readonly number[], driftPerMs = 0): number[] {
  const clock = new CaptureClock();
  return delaysMs.map((delayMs, index) => {
    const taken = 5000 + index * 33;
    const arrivedMs = taken + delayMs;
    return arrivedMs - clock.captured(index * 33 * (1 + driftPerMs), arrivedMs);
  });
}

describe('capture told from arrivals', () => {
  it('counts every delay beyond the quickest', () => {
    expect(latencies([4, 4, 44, 4, 104]).map(Math.round)).toEqual([0, 0, 40, 0, 100]);
  });

  it('mends its guess when a quicker arrival shows that the first ones were late', () => {
    const [first, , third] = latencies([60, 60, 10, 60]);
    expect(first).toBe(0);
    expect(third).toBe(0);
    expect(Math.round(latencies([60, 60, 10, 60])[3] ?? NaN)).toBe(50);
  });

  it('forgets old arrivals, so that a clock that drifts does not pile up delay', () => {
    // 0.1 ms a second over a minute: without forgetting the last picture would look 6 ms old.
    const all = latencies(
      Array.from({ length: 1800 }, () => 5),
      -0.0001,
    );
    expect(Math.max(...all)).toBeLessThan(1.1);
  });
});
