import type { Band, BandReading } from './equipment.ts';
import { notKnown, type LoadFigure, type LoadValue, type NotKnown } from './load-figure.ts';
import { BAND_BEYOND_SHARE, BAND_DOUBT, BAND_LEAST_SPREAD, INPUT_DOUBT } from './load-limits.ts';

/**
 * A band's force by its stretch, fitted to scale readings. Stretch is length over rest length, from 1.
 *
 * F = a (s - 1/s^2) + b (1 - 1/s^3), a and b at least 0: rubber by Mooney (1940) and Rivlin (1948) pulled along one line. It goes
 * through 0 at rest and is concave, as bands are (older supplier's table, 25 to 250 %: within 4 %); a steel spring
 * is not described by it and shows as a poor fit, hence as doubt.
 */
export interface BandCurve {
  readonly restLengthM: number;
  readonly stiffN: number;
  readonly softN: number;
  /** Half-width of the doubt within the readings, as a share of the force. */
  readonly doubtShare: number;
  readonly longestReadingM: number;
}

interface StretchReading {
  readonly terms: readonly [number, number];
  readonly forceN: number;
  readonly weight: number;
}

/**
 * Fits the curve by weighted least squares with both coefficients at least 0, in closed form.
 * @returns "readings-too-close" when fewer than two differ enough in stretch; "readings-do-not-rise" when a
 * longer band pulled no harder, or hardly at all
 */
export function fitBandCurve({
  restLengthM,
  readings,
}: Pick<Band, 'restLengthM' | 'readings'>): BandCurve | NotKnown {
  const stretched = readings
    .filter(({ lengthM }) => lengthM > restLengthM)
    .sort((a, b) => a.lengthM - b.lengthM);
  const [first, last] = [stretched.at(0), stretched.at(-1)];
  if (first === undefined || last === undefined) return notKnown('readings-too-close');
  const longest = last.lengthM - restLengthM;
  if (last.lengthM - first.lengthM < BAND_LEAST_SPREAD * longest) return notKnown('readings-too-close');
  // A pull of no more than a scale's error is none.
  if (!(last.forceN > Math.max(first.forceN, INPUT_DOUBT.scaleN))) return notKnown('readings-do-not-rise');
  const largestN = Math.max(...stretched.map(({ forceN }) => forceN));
  const points = stretched.map((reading) => stretchReading(reading, restLengthM, largestN));
  const [stiffN, softN] = nonNegativeFit(points);
  return {
    restLengthM,
    stiffN,
    softN,
    doubtShare: doubtOf(points, stiffN, softN),
    longestReadingM: last.lengthM,
  };
}

/**
 * The pull at a length from end to end, newtons: 0 while it hangs loose.
 * @returns "stretched-beyond-readings" where nobody has read a force anywhere near
 */
export function bandTension(curve: BandCurve, lengthM: number): LoadValue {
  const of = 'band-tension';
  if (lengthM <= curve.restLengthM) return { value: 0, least: 0, most: 0, of };
  const read = curve.longestReadingM - curve.restLengthM;
  const beyond = (lengthM - curve.longestReadingM) / read;
  // Room for arithmetic: a length of exactly the limit is still given.
  if (beyond > BAND_BEYOND_SHARE + 1e-9) return notKnown('stretched-beyond-readings');
  const [stiff, soft] = termsAt(lengthM / curve.restLengthM);
  const value = curve.stiffN * stiff + curve.softN * soft;
  const share = curve.doubtShare * (1 + Math.max(0, beyond) / BAND_BEYOND_SHARE);
  // A reading's own error in newtons does not shrink with the force.
  const half = Math.hypot(share * value, Math.min(value, INPUT_DOUBT.scaleN));
  return { value, least: Math.max(0, value - half), most: value + half, of } satisfies LoadFigure;
}

/** The longest length at which bandTension still gives a force, metres. */
export function longestKnownM(curve: BandCurve): number {
  return curve.longestReadingM + BAND_BEYOND_SHARE * (curve.longestReadingM - curve.restLengthM);
}

function termsAt(stretch: number): readonly [number, number] {
  return [stretch - stretch ** -2, 1 - stretch ** -3];
}

/** A scale errs by a share of what it shows and by a share of what it is used for, so that readings in another unit fit alike. */
function stretchReading(
  { lengthM, forceN }: BandReading,
  restLengthM: number,
  largestN: number,
): StretchReading {
  const sd = INPUT_DOUBT.scaleShare * Math.hypot(forceN, largestN);
  return { terms: termsAt(lengthM / restLengthM), forceN, weight: 1 / (sd * sd) };
}

/** Weighted least squares of two coefficients, neither below 0: the free optimum, or the better of the two borders. */
function nonNegativeFit(points: readonly StretchReading[]): readonly [number, number] {
  const sum = (pick: (point: StretchReading) => number): number =>
    points.reduce((total, point) => total + point.weight * pick(point), 0);
  const [aa, ab, bb] = [
    sum(({ terms: [a] }) => a * a),
    sum(({ terms: [a, b] }) => a * b),
    sum(({ terms: [, b] }) => b * b),
  ];
  const [ay, by] = [
    sum(({ terms: [a], forceN }) => a * forceN),
    sum(({ terms: [, b], forceN }) => b * forceN),
  ];
  const determinant = aa * bb - ab * ab;
  if (determinant > 1e-12 * aa * bb) {
    const free = [(ay * bb - by * ab) / determinant, (by * aa - ay * ab) / determinant] as const;
    if (free[0] >= 0 && free[1] >= 0) return free;
  }
  const borders = [
    [Math.max(0, ay / aa), 0],
    [0, Math.max(0, by / bb)],
  ] as const;
  const misfit = ([a, b]: readonly [number, number]): number =>
    sum(({ terms: [ta, tb], forceN }) => (a * ta + b * tb - forceN) ** 2);
  return misfit(borders[0]) <= misfit(borders[1]) ? borders[0] : borders[1];
}

/** The doubt of the curve: what it misses of the readings, twice, and never less than what such readings are worth. */
function doubtOf(points: readonly StretchReading[], stiffN: number, softN: number): number {
  // Small forces are read badly in shares of themselves; they must not make the whole curve look unsure.
  const smallestN = BAND_DOUBT.smallForceShare * Math.max(...points.map(({ forceN }) => forceN));
  const misses = points.map(
    ({ terms: [a, b], forceN }) => (stiffN * a + softN * b - forceN) / Math.max(forceN, smallestN),
  );
  const free = Math.max(1, misses.length - 2);
  const missed = 2 * Math.sqrt(misses.reduce((sum, miss) => sum + miss * miss, 0) / free);
  const floor = points.length < BAND_DOUBT.many ? BAND_DOUBT.fewReadings : BAND_DOUBT.manyReadings;
  return Math.max(floor, missed);
}
