import type { DrawnPoint } from './trace-gaps.ts';

/** A stretch of a scale, in the scale's unit; high is above low. */
export interface Extent {
  readonly low: number;
  readonly high: number;
}

/** Space beyond the outermost value, as a share of the scale: the curve's stroke and its dot. */
const AIR = 0.04;

/** Steps that read easily in degrees: they divide a right angle. */
const ANGLE_STEPS = [5, 10, 15, 30, 45, 90];

/**
 * Round values inside an extent, about as many as asked for and at least two where the extent allows.
 * Angles get steps that divide 90, so that a right angle has its own line.
 */
export function ticks(extent: Extent, about: number, angle: boolean): number[] {
  const span = extent.high - extent.low;
  if (!(span > 0)) return [];
  const wanted = span / Math.max(1, about);
  const step =
    (angle && wanted > 3 ? ANGLE_STEPS.find((candidate) => candidate >= wanted) : undefined) ??
    roundStep(wanted);
  const first = Math.ceil(extent.low / step - 1e-9);
  const last = Math.floor(extent.high / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => (first + index) * step + 0);
}

/** 1, 2 or 5 times a power of ten, at least the wanted step. */
function roundStep(wanted: number): number {
  const power = 10 ** Math.floor(Math.log10(wanted));
  const factor = [1, 2, 5, 10].find((candidate) => candidate * power >= wanted * (1 - 1e-9)) ?? 10;
  return factor * power;
}

/**
 * Thins a run to what a picture of the given width can show: of each pixel column the lowest and the highest value,
 * in order of time, each with the widest interval of its column. A run that fits is returned as it is, so zooming in
 * always ends at the frames themselves.
 */
export function thinned(run: readonly DrawnPoint[], secondsPerPx: number): readonly DrawnPoint[] {
  const first = run[0];
  const last = run.at(-1);
  if (!first || !last || run.length < 2 * ((last.timeSeconds - first.timeSeconds) / secondsPerPx + 1))
    return run;
  const kept: DrawnPoint[] = [first];
  let column: DrawnPoint[] = [];
  let columnIndex = -1;
  const close = (): void => {
    const least = column.reduce((a, b) => (b.value < a.value ? b : a), column[0] ?? first);
    const most = column.reduce((a, b) => (b.value > a.value ? b : a), column[0] ?? first);
    const low = Math.min(...column.map((point) => point.low));
    const high = Math.max(...column.map((point) => point.high));
    const pair = least.timeSeconds <= most.timeSeconds ? [least, most] : [most, least];
    kept.push(...pair.map((point) => ({ ...point, low, high })));
  };
  for (const point of run) {
    const index = Math.floor((point.timeSeconds - first.timeSeconds) / secondsPerPx);
    if (index !== columnIndex && column.length > 0) {
      close();
      column = [];
    }
    columnIndex = index;
    column.push(point);
  }
  close();
  kept.push(last);
  return kept;
}

/**
 * The smallest extent that holds the asked one, the target and every drawn value; an end that had to grow gets a little
 * air. Wide intervals may run out of it.
 */
export function extentOf(
  asked: Extent,
  runs: readonly (readonly DrawnPoint[])[],
  target: Extent | null,
): Extent {
  let { low, high } = asked;
  if (target) {
    low = Math.min(low, target.low);
    high = Math.max(high, target.high);
  }
  for (const run of runs) {
    for (const point of run) {
      low = Math.min(low, point.value);
      high = Math.max(high, point.value);
    }
  }
  const air = (high - low) * AIR;
  return { low: low < asked.low ? low - air : low, high: high > asked.high ? high + air : high };
}
