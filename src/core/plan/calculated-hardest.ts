import { demandCurve } from '../loads/demand.ts';
import { USUAL_RANGE } from '../loads/loaded-exercise.ts';
import type { Plan } from './plan.ts';
import type { HardestPlace } from './training-day.ts';

/**
 * Where each band curl of a plan is hardest by calculation, by the exercise's key: the part of its range with the largest
 * demand for the strength there, from a healthy population's curve. An estimate, for the therapist to set beside what was
 * felt. Exercises without a described band are left out, and those for which nothing can be told.
 */
export function calculatedHardest(plan: Plan): Readonly<Record<string, HardestPlace>> {
  const { statureCm, bodyMassKg } = plan.person;
  const places = plan.stages.flatMap(({ exercises }) =>
    exercises.flatMap((exercise) => {
      if (exercise.exercise !== 'band-curl' || exercise.equipment === null) return [];
      const { hardest } = demandCurve({
        equipment: exercise.equipment,
        person: { statureCm, bodyMassKg },
        variant: exercise.variant,
        range: exercise.range ?? USUAL_RANGE,
      });
      return hardest === null ? [] : [[exercise.key, hardest] as const];
    }),
  );
  return Object.fromEntries(places);
}
