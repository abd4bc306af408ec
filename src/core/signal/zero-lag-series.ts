import { zeroLagLowPass } from './butterworth.ts';
import { resampleStretches, sampleStretch, type TimedValue } from './resample.ts';

/** Highest cut-off of a recorded series, hertz. Usual in gait and whole-body work (Winter). */
const HIGHEST_CUTOFF_HZ = 6;

/** Cut-off of a recorded series, hertz: the smaller of 6 Hz and a quarter of the measured rate. */
export function recordCutoffHz(rateHz: number): number {
  return Math.min(HIGHEST_CUTOFF_HZ, rateHz / 4);
}

/**
 * Zero-lag low-pass of a series with its own times and gaps: each stretch between gaps is brought to a uniform rate,
 * filtered on its own, and read back at the series' own times. Null stays null.
 */
export function zeroLagSeries(series: readonly TimedValue[], rateHz: number): (number | null)[] {
  const cutoffHz = recordCutoffHz(rateHz);
  const filtered = resampleStretches(series, rateHz).map((stretch) => ({
    ...stretch,
    values: zeroLagLowPass(stretch.values, cutoffHz, rateHz),
  }));
  let current = 0;
  return series.map(({ timeSeconds, value }) => {
    if (value === null) return null;
    while (current < filtered.length) {
      const stretch = filtered[current];
      const sampled = stretch ? sampleStretch(stretch, timeSeconds) : null;
      if (sampled !== null) return sampled;
      if (stretch && timeSeconds < stretch.startSeconds) return null;
      current++;
    }
    return null;
  });
}
