import { median } from '../math/statistics.ts';

/** A value at its time; null where there is none. */
export interface TimedValue {
  readonly timeSeconds: number;
  readonly value: number | null;
}

/** A run of values without a gap longer than MAX_BRIDGED_SECONDS, at a uniform rate. */
export interface UniformStretch {
  readonly startSeconds: number;
  readonly rateHz: number;
  readonly values: readonly number[];
}

/** Longer gaps stay gaps; shorter ones are passed over linearly, only so that the filter has its uniform rate. */
const MAX_BRIDGED_SECONDS = 0.25;

/** Rate of a series from its median step, hertz; null with fewer than two rising times. */
export function measuredRateHz(timesSeconds: readonly number[]): number | null {
  const steps: number[] = [];
  for (let i = 1; i < timesSeconds.length; i++) {
    const step = (timesSeconds[i] ?? 0) - (timesSeconds[i - 1] ?? 0);
    if (step > 0) steps.push(step);
  }
  const step = median(steps);
  return step === null ? null : 1 / step;
}

/**
 * The longest step between two values that still counts as one stretch, seconds: 0.25, or one and a half of the
 * series' own steps where a slow source never comes nearer than that.
 */
export function longestBridgedStep(rateHz: number): number {
  return Math.max(MAX_BRIDGED_SECONDS, 1.5 / rateHz);
}

/** The runs of values between the gaps. Times must rise; values at times that do not rise are left out. */
function stretches(series: readonly TimedValue[], longestStepSeconds: number): [number, number][][] {
  const runs: [number, number][][] = [];
  let run: [number, number][] = [];
  let lastSeconds = -Infinity;
  for (const { timeSeconds, value } of series) {
    if (value === null || !Number.isFinite(value) || timeSeconds <= lastSeconds) continue;
    if (run.length > 0 && timeSeconds - lastSeconds > longestStepSeconds + 1e-9) {
      runs.push(run);
      run = [];
    }
    run.push([timeSeconds, value]);
    lastSeconds = timeSeconds;
  }
  if (run.length > 0) runs.push(run);
  return runs;
}

/** A run of timed values at a uniform rate, linearly between its values; its last sample is at or after its end. */
function toUniform(run: readonly [number, number][], rateHz: number): UniformStretch {
  const [startSeconds, firstValue] = run[0] ?? [0, 0];
  const [endSeconds] = run[run.length - 1] ?? [startSeconds];
  const count = Math.ceil((endSeconds - startSeconds) * rateHz - 1e-6) + 1;
  const values: number[] = [];
  let i = 0;
  for (let k = 0; k < count; k++) {
    const t = startSeconds + k / rateHz;
    while (i + 2 < run.length && (run[i + 1]?.[0] ?? Infinity) < t) i++;
    const [t0, v0] = run[i] ?? [startSeconds, firstValue];
    const [t1, v1] = run[i + 1] ?? [t0, v0];
    const share = t1 > t0 ? (t - t0) / (t1 - t0) : 0;
    values.push(v0 + (v1 - v0) * share);
  }
  return { startSeconds, rateHz, values };
}

/**
 * Cuts a series at its gaps and brings each stretch to a uniform rate. Gaps longer than 0.25 s are never bridged.
 * rateHz above 0.
 */
export function resampleStretches(series: readonly TimedValue[], rateHz: number): UniformStretch[] {
  return stretches(series, longestBridgedStep(rateHz)).map((run) => toUniform(run, rateHz));
}

/** The stretch's value at a time, linearly between samples; null outside it. */
export function sampleStretch(stretch: UniformStretch, timeSeconds: number): number | null {
  const place = (timeSeconds - stretch.startSeconds) * stretch.rateHz;
  const last = stretch.values.length - 1;
  if (place < -1e-6 || place > last + 1e-6) return null;
  const i = Math.min(Math.max(0, Math.floor(place)), Math.max(0, last - 1));
  const below = stretch.values[i] ?? 0;
  const above = stretch.values[i + 1] ?? below;
  return below + (above - below) * (place - i);
}
