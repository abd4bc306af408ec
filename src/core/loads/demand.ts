import { clamp } from '../math/statistics.ts';
import {
  clampToCapacity,
  flexorCapacity,
  POPULATION_PEAK_NM,
  REFERENCE_PEAK_NM,
  withinCapacityTable,
} from './flexor-capacity.ts';
import { isKnown, notKnown, type LoadFigure, type LoadProblem, type LoadValue } from './load-figure.ts';
import { BICEPS_PART_LEAST, MOMENT_ARM_DOUBT_SHARE, SAME_DEMAND_SHARE } from './load-limits.ts';
import { elbowMomentOf, type LoadedExercise } from './loaded-exercise.ts';
import { modelBicepsArmM, pigeonArmM } from './moment-arms.ts';

/** Whose strength the demand is divided by: the peak of the flexor moment curve, newton metres. */
export interface CapacityReference {
  readonly peakNm: number;
  readonly leastNm: number;
  readonly mostNm: number;
}

/** A healthy population's strength, with the span from the mean of women to that of men. Never the person's own. */
export const POPULATION_CAPACITY: CapacityReference = {
  peakNm: REFERENCE_PEAK_NM,
  leastNm: POPULATION_PEAK_NM.least,
  mostNm: POPULATION_PEAK_NM.most,
};

/** Demand at one angle beside the strength there. */
interface DemandPoint {
  readonly flexionDeg: number;
  readonly momentNm: LoadFigure;
  readonly capacityNm: number;
  /** 1: all of the strength of a healthy population at this angle. */
  readonly overCapacity: LoadFigure;
  readonly bicepsMomentNm: LoadFigure;
}

/** Where a range is hardest; the same words as are asked after a band set. */
export type HardestPart = 'straight' | 'middle' | 'bent' | 'the-same';

/** Demand over capacity through a range. */
export interface DemandCurve {
  readonly points: readonly DemandPoint[];
  /** Why angles of the range are left out; empty when none is. */
  readonly problems: readonly LoadProblem[];
  /**
   * Coefficient of variation of demand over capacity, over evenly spaced angles: 0 keeps in proportion to strength. It does
   * not depend on how strong anyone is. Null below three angles, or where the flexors are not what holds.
   */
  readonly evenness: number | null;
  /** The angle with the largest demand over capacity. */
  readonly peak: DemandPoint | null;
  readonly hardest: HardestPart | null;
}

/** Angles at which a range is looked at. */
const STEPS = 24;

/**
 * The angles at which an exercise's demand is worked out, degrees: the middle of a hold's range, else evenly through it.
 * @param steps - at least 1
 */
export function demandAngles({ equipment, range }: LoadedExercise, steps: number = STEPS): number[] {
  const span = range.topFlexionDeg - range.startFlexionDeg;
  if (equipment.kind === 'bar') return [range.startFlexionDeg + span / 2];
  return Array.from({ length: steps + 1 }, (_, step) => range.startFlexionDeg + (span * step) / steps);
}

/**
 * Demand divided by capacity of an exercise through its range. For comparing set-ups, for the therapist, from a healthy
 * population's curve: never a starting load. Angles outside the capacity table are left out and said.
 */
export function demandCurve(
  exercise: LoadedExercise,
  capacity: CapacityReference = POPULATION_CAPACITY,
  anglesDeg: readonly number[] = demandAngles(exercise),
): DemandCurve {
  const problems = new Set<LoadProblem>();
  const momentAt = elbowMomentOf(exercise);
  const points = anglesDeg.flatMap((flexionDeg) => {
    const moment = withinCapacityTable(flexionDeg)
      ? momentAt(flexionDeg)
      : notKnown('outside-capacity-table');
    if (isKnown(moment)) return [demandPoint(flexionDeg, moment, capacity)];
    problems.add(moment.notKnown);
    return [];
  });
  return { points, problems: [...problems], evenness: evennessOf(points), ...hardestOf(points, exercise) };
}

/** A moment beside the strength at its angle. */
function demandPoint(flexionDeg: number, momentNm: LoadFigure, capacity: CapacityReference): DemandPoint {
  const at = (peakNm: number): number => flexorCapacity(flexionDeg, peakNm).momentNm;
  const capacityNm = at(capacity.peakNm);
  const shares = [momentNm.least, momentNm.most].flatMap((moment) => [
    moment / at(capacity.leastNm),
    moment / at(capacity.mostNm),
  ]);
  return {
    flexionDeg,
    momentNm,
    capacityNm,
    overCapacity: {
      value: momentNm.value / capacityNm,
      least: Math.min(...shares),
      most: Math.max(...shares),
      of: 'demand-over-capacity',
    },
    bicepsMomentNm: bicepsMoment(flexionDeg, momentNm),
  };
}

/** Coefficient of variation of demand over capacity, or null below three points or where its mean is not above 0. */
function evennessOf(points: readonly Pick<DemandPoint, 'overCapacity'>[]): number | null {
  const shares = points.map(({ overCapacity }) => overCapacity.value);
  return coefficientOfVariation(shares);
}

/** Standard deviation over mean, of the values as they are; null below three values or where the mean is not above 0. */
export function coefficientOfVariation(values: readonly number[]): number | null {
  if (values.length < 3) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  if (!(mean > 0)) return null;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length) / mean;
}

/**
 * The largest point, and the third of the range with the largest mean demand over capacity; "the same" when the thirds
 * differ by less than a tenth. Null where a third is missing or nothing is held.
 */
function hardestOf(
  points: readonly DemandPoint[],
  { range }: LoadedExercise,
): Pick<DemandCurve, 'peak' | 'hardest'> {
  const peak = points.reduce<DemandPoint | null>(
    (best, point) => (best === null || point.overCapacity.value > best.overCapacity.value ? point : best),
    null,
  );
  const { startFlexionDeg, topFlexionDeg } = range;
  const span = topFlexionDeg - startFlexionDeg;
  const thirds: Record<'straight' | 'middle' | 'bent', number[]> = { straight: [], middle: [], bent: [] };
  for (const { flexionDeg, overCapacity } of points) {
    const third = clamp(Math.floor((3 * (flexionDeg - startFlexionDeg)) / span), 0, 2);
    thirds[third === 0 ? 'straight' : third === 1 ? 'middle' : 'bent'].push(overCapacity.value);
  }
  const means = (['straight', 'middle', 'bent'] as const).map((name) => ({
    name,
    mean: thirds[name].reduce((sum, share) => sum + share, 0) / thirds[name].length,
  }));
  // A third without a point has no mean.
  if (!(span > 0) || means.some(({ mean }) => Number.isNaN(mean))) return { peak, hardest: null };
  const [most, , least] = [...means].sort((a, b) => b.mean - a.mean);
  if (most === undefined || least === undefined || !(most.mean > 0)) return { peak, hardest: null };
  return { peak, hardest: most.mean - least.mean < SAME_DEMAND_SHARE * most.mean ? 'the-same' : most.name };
}

/**
 * The biceps' part of an elbow moment, newton metres. Value: shared as the flexors' strengths are; least: the other flexors
 * take far more of it; most: the biceps alone.
 */
export function bicepsMoment(flexionDeg: number, momentNm: LoadFigure): LoadFigure {
  const { bicepsShare } = flexorCapacity(clampToCapacity(flexionDeg));
  const ends = [momentNm.least, momentNm.most].flatMap((end) => [end * bicepsShare * BICEPS_PART_LEAST, end]);
  return {
    value: momentNm.value * bicepsShare,
    least: Math.min(...ends),
    most: Math.max(...ends),
    of: 'biceps-moment',
  };
}

/**
 * Force in the biceps' tendon from an elbow moment, newtons: its part of the moment over the moment arm, the mean of two
 * published curves. The span is wide on purpose: the muscles share a moment in ways that nobody sees. Where the biceps also
 * supinates it adds what is not in here. Never to be named without least and most.
 */
export function bicepsTendonForce(flexionDeg: number, momentNm: LoadFigure): LoadValue {
  if (!withinCapacityTable(flexionDeg)) return notKnown('outside-capacity-table');
  const arms = [pigeonArmM('biceps', flexionDeg), modelBicepsArmM(flexionDeg)];
  const armM = (Math.min(...arms) + Math.max(...arms)) / 2;
  const shortestM = Math.min(...arms) * (1 - MOMENT_ARM_DOUBT_SHARE);
  const longestM = Math.max(...arms) * (1 + MOMENT_ARM_DOUBT_SHARE);
  const { value, least, most } = bicepsMoment(flexionDeg, momentNm);
  return {
    value: Math.max(0, value / armM),
    least: Math.max(0, least / longestM),
    most: Math.max(0, most / shortestM),
    of: 'biceps-tendon-force',
  };
}
