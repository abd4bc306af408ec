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
 * The smallest extent that holds the asked one, the target and every value (NaN counts for none); an end that had to grow gets
 * a little air. Wide intervals may run out of it.
 */
export function extentOf(asked: Extent, values: Iterable<number>, target: Extent | null): Extent {
  let { low, high } = asked;
  if (target) {
    low = Math.min(low, target.low);
    high = Math.max(high, target.high);
  }
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  const air = (high - low) * AIR;
  return { low: low < asked.low ? low - air : low, high: high > asked.high ? high + air : high };
}
