import { GAP_SECONDS, type DrawnPoint } from './trace-gaps.ts';
import type { Extent } from './trace-scale.ts';
import type { TraceMeasure } from './trace-types.ts';

/**
 * The runs of a measure that are drawn in a window of time, as unbrokenRuns cuts them. Where more frames lie in a
 * picture's column than it can show, the lowest and the highest of the column stand for them, each with its widest
 * interval: so a path is never longer than its picture is wide, and zooming in always ends at the frames themselves.
 * @param reach - frames beyond each end of the window that are drawn too, so that the curve meets the edge
 */
export function drawnRuns(
  { timesSeconds, column }: TraceMeasure,
  window: Extent,
  secondsPerPx: number,
  reach: 0 | 1,
): DrawnPoint[][] {
  const end = Math.min(timesSeconds.length, firstAfter(timesSeconds, window.high) + reach);
  let from = Math.max(0, firstAtOrAfter(timesSeconds, window.low) - reach);
  const runs: DrawnPoint[][] = [];
  while (from < end) {
    while (from < end && isMissing(column.values, from)) from++;
    let to = from;
    while (to < end && !isMissing(column.values, to) && (to === from || isNear(timesSeconds, to))) to++;
    if (to > from) runs.push(drawnRun(timesSeconds, column, from, to, secondsPerPx));
    from = to;
  }
  return runs;
}

type Columns = TraceMeasure['column'];

function isMissing(values: Float64Array, index: number): boolean {
  return Number.isNaN(values[index] ?? NaN);
}

function isNear(times: Float64Array, index: number): boolean {
  return (times[index] ?? 0) - (times[index - 1] ?? 0) <= GAP_SECONDS;
}

/** The frames from a place up to another as they are drawn. */
function drawnRun(
  times: Float64Array,
  column: Columns,
  from: number,
  to: number,
  secondsPerPx: number,
): DrawnPoint[] {
  const start = times[from] ?? 0;
  const fits = to - from < 2 * (((times[to - 1] ?? start) - start) / secondsPerPx + 1);
  const run: DrawnPoint[] = [];
  if (fits) {
    for (let i = from; i < to; i++) run.push(pointAt(times, column, i));
    return run;
  }
  run.push(pointAt(times, column, from));
  let i = from;
  while (i < to) {
    const place = Math.floor(((times[i] ?? 0) - start) / secondsPerPx);
    let [least, most] = [i, i];
    let [low, high] = [Infinity, -Infinity];
    for (; i < to && Math.floor(((times[i] ?? 0) - start) / secondsPerPx) === place; i++) {
      const value = column.values[i] ?? NaN;
      if (value < (column.values[least] ?? NaN)) least = i;
      if (value > (column.values[most] ?? NaN)) most = i;
      low = Math.min(low, column.lows[i] ?? low);
      high = Math.max(high, column.highs[i] ?? high);
    }
    const [first, second] = least <= most ? [least, most] : [most, least];
    run.push(
      { ...pointAt(times, column, first), low, high },
      { ...pointAt(times, column, second), low, high },
    );
  }
  run.push(pointAt(times, column, to - 1));
  return run;
}

function pointAt(times: Float64Array, { values, lows, highs }: Columns, index: number): DrawnPoint {
  return {
    timeSeconds: times[index] ?? NaN,
    value: values[index] ?? NaN,
    low: lows[index] ?? NaN,
    high: highs[index] ?? NaN,
  };
}

/** Place of the first time at or after a moment; the number of times when there is none. */
export function firstAtOrAfter(times: Float64Array, seconds: number): number {
  return placeOf(times, (time) => time < seconds);
}

/** Place of the first time after a moment; the number of times when there is none. */
export function firstAfter(times: Float64Array, seconds: number): number {
  return placeOf(times, (time) => time <= seconds);
}

/** Place of the first time that is not before, in rising times. */
function placeOf(times: Float64Array, isBefore: (time: number) => boolean): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isBefore(times[middle] ?? Infinity)) low = middle + 1;
    else high = middle;
  }
  return low;
}
