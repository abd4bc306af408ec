import type { Bar } from '../loads/equipment.ts';
import { isMeasuredExercise } from './plan.ts';
import { thresholdsOf } from './planned-thresholds.ts';
import { HARDEST_PLACES, type HardestPlace, type TrainingDay } from './training-day.ts';
import type { WeighedDay } from './weigh-day.ts';

/** Holds in which the hand rose, so that the bar may have lifted: the ceiling of that grip was reached. */
export interface BarCeiling {
  readonly days: readonly WeighedDay[];
  readonly setCount: number;
  /** Most that the hand rose, and the rise from which the bar is said to lift; upper-arm lengths. */
  readonly mostUpperArms: number;
  readonly thresholdUpperArms: number;
  /** The bar of the last of them; null where it is not described. */
  readonly bar: Bar | null;
}

/** The holds of some days in which the hand rose by the plan's threshold or more; null when there is none. */
export function barCeiling(days: readonly WeighedDay[]): BarCeiling | null {
  const risen = days.flatMap((weighed) => {
    const { day, plan } = weighed;
    const planned = plan.stages.flatMap(({ exercises }) => exercises);
    return day.exercises.flatMap(({ exerciseKey, sets }) => {
      const exercise = planned.find(({ key }) => key === exerciseKey);
      if (exercise === undefined || !isMeasuredExercise(exercise) || exercise.exercise !== 'hold') return [];
      const threshold = thresholdsOf(exercise).handRiseUpperArms;
      return sets.flatMap(({ measured }) => {
        const rise = measured?.handRoseUpperArms ?? null;
        return rise !== null && rise >= threshold
          ? [{ weighed, rise, threshold, bar: exercise.equipment }]
          : [];
      });
    });
  });
  const [first] = risen;
  if (first === undefined) return null;
  return {
    days: [...new Set(risen.map(({ weighed }) => weighed))],
    setCount: risen.length,
    mostUpperArms: Math.max(...risen.map(({ rise }) => rise)),
    thresholdUpperArms: first.threshold,
    bar: risen.at(-1)?.bar ?? null,
  };
}

/** Where the sets of a band were felt to be hardest, beside where they are by calculation. */
export interface FeltHardest {
  readonly exerciseKey: string;
  readonly days: readonly WeighedDay[];
  /** The place named most often; null when no place was named more often than another. */
  readonly place: HardestPlace | null;
  readonly timesNamed: number;
  readonly answerCount: number;
  /** Null where nothing was calculated, as without a described band. */
  readonly calculated: HardestPlace | null;
}

/** The answers of an exercise over some days; null when nobody answered. */
export function feltHardest(
  days: readonly WeighedDay[],
  exerciseKey: string,
  calculated: HardestPlace | null,
): FeltHardest | null {
  const answered = days.flatMap((weighed) =>
    weighed.day.exercises
      .filter((done) => done.exerciseKey === exerciseKey)
      .flatMap(({ sets }) => sets.flatMap(({ hardest }) => (hardest === null ? [] : [{ weighed, hardest }]))),
  );
  if (answered.length === 0) return null;
  const counts = HARDEST_PLACES.map((place) => ({
    place,
    count: answered.filter(({ hardest }) => hardest === place).length,
  })).sort((a, b) => b.count - a.count);
  const [most, second] = counts;
  return {
    exerciseKey,
    days: [...new Set(answered.map(({ weighed }) => weighed))],
    place: most && most.count > (second?.count ?? 0) ? most.place : null,
    timesNamed: most?.count ?? 0,
    answerCount: answered.length,
    calculated,
  };
}

/** Where the last answered set of an exercise was hardest, as felt; by the exercise's key, none where nobody answered. */
export type LastFelt = Readonly<Record<string, HardestPlace>>;

/** What was answered last for each exercise. days: the oldest first. */
export function lastFelt(days: readonly TrainingDay[]): LastFelt {
  const answers = days.flatMap(({ exercises }) =>
    exercises.flatMap(({ exerciseKey, sets }) =>
      sets.flatMap(({ hardest }) => (hardest === null ? [] : [[exerciseKey, hardest] as const])),
    ),
  );
  // Of several entries with one key the last one stays.
  return Object.fromEntries(answers);
}
