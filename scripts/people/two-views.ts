import { isMeasured, type Measured } from '../../src/core/kinematics/measured.ts';
import type { ArmFigures } from './clip-figures.ts';

/** How two cameras agree on one arm at the same moments. */
export interface TwoViews {
  /** Moments at which both measured the elbow, and all that were compared. */
  readonly both: number;
  readonly moments: number;
  /** First less second, degrees. */
  readonly meanDifferenceDeg: number;
  readonly meanAbsoluteDeg: number;
  /** Share of the moments at which the difference is no larger than both half-widths allow together. */
  readonly agreeing: number;
}

/** Two clips' clocks run alike; pictures this near to each other show the same moment, seconds. */
const SAME_MOMENT_SECONDS = 0.09;

/** An elbow angle at a moment. */
interface TimedElbow {
  readonly timeSeconds: number;
  readonly elbowDeg: Measured;
}

/** An arm's elbow: as the treated arm where that was measured, else as the other arm of the other one's run. */
export function elbowOf(own: ArmFigures, other: ArmFigures): TimedElbow[] {
  return own.series.map(({ timeSeconds, elbowFlexionDeg }, i) => {
    const beside = other.series[i]?.otherElbowFlexionDeg;
    const elbowDeg = isMeasured(elbowFlexionDeg) || beside === undefined ? elbowFlexionDeg : beside;
    return { timeSeconds, elbowDeg };
  });
}

/** Compares two series of the same arm by their times; null where they have no moment in common. */
export function compareViews(first: readonly TimedElbow[], second: readonly TimedElbow[]): TwoViews | null {
  const pairs = first.flatMap((frame) => {
    const near = second.filter(
      ({ timeSeconds }) => Math.abs(timeSeconds - frame.timeSeconds) <= SAME_MOMENT_SECONDS,
    );
    const own = near.sort(
      (a, b) => Math.abs(a.timeSeconds - frame.timeSeconds) - Math.abs(b.timeSeconds - frame.timeSeconds),
    )[0];
    return own === undefined ? [] : [[frame.elbowDeg, own.elbowDeg] as const];
  });
  const both = pairs.flatMap(([a, b]) => (isMeasured(a) && isMeasured(b) ? [{ a, b }] : []));
  if (both.length === 0)
    return pairs.length === 0
      ? null
      : { both: 0, moments: pairs.length, meanDifferenceDeg: NaN, meanAbsoluteDeg: NaN, agreeing: NaN };
  const differences = both.map(({ a, b }) => a.value - b.value);
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  return {
    both: both.length,
    moments: pairs.length,
    meanDifferenceDeg: mean(differences),
    meanAbsoluteDeg: mean(differences.map(Math.abs)),
    agreeing: mean(
      both.map(({ a, b }) =>
        Math.abs(a.value - b.value) <= Math.hypot((a.high - a.low) / 2, (b.high - b.low) / 2) ? 1 : 0,
      ),
    ),
  };
}
