import type { TimedValue } from './resample.ts';

/**
 * Rate of change at each time, per second, by the parabola through the neighbours (exact for a constant acceleration,
 * also with uneven steps); one-sided at the ends of a stretch. Null where the value is, where it stands alone, and
 * never across a gap longer than maxStepSeconds.
 */
export function derivative(series: readonly TimedValue[], maxStepSeconds: number): (number | null)[] {
  return series.map((here, i) => {
    if (here.value === null) return null;
    const before = slope(series[i - 1], here, maxStepSeconds);
    const after = slope(here, series[i + 1], maxStepSeconds);
    if (before === null || after === null) return before?.perSecond ?? after?.perSecond ?? null;
    const whole = before.stepSeconds + after.stepSeconds;
    return (before.perSecond * after.stepSeconds + after.perSecond * before.stepSeconds) / whole;
  });
}

/** Slope between two neighbours, or null when one is missing or they lie too far apart. */
function slope(
  a: TimedValue | undefined,
  b: TimedValue | undefined,
  maxStepSeconds: number,
): { perSecond: number; stepSeconds: number } | null {
  if (!a || !b || a.value === null || b.value === null) return null;
  const stepSeconds = b.timeSeconds - a.timeSeconds;
  if (!(stepSeconds > 0) || stepSeconds > maxStepSeconds) return null;
  return { perSecond: (b.value - a.value) / stepSeconds, stepSeconds };
}
