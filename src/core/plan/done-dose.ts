import { sumOf, type EstimatedQuantity, type LoadFigure } from '../loads/load-figure.ts';
import type { DoneSet, TrainingDay } from './training-day.ts';

/** A dose summed over sets, and how many of the sets it rests on: the others have no such figure. */
export interface SummedDose {
  readonly figure: LoadFigure;
  readonly setsWithFigure: number;
  readonly setCount: number;
}

/** What some sets came to for the flexors of the treated arm; null where no set has the figure. */
export interface DoneDose {
  /** Seconds; as measured, so that it has no span. */
  readonly timeUnderTension: SummedDose | null;
  /** Newton metre seconds. */
  readonly elbowImpulse: SummedDose | null;
}

/** The dose of one set, of a session, of a week: whatever sets are given. */
export function doneDose(sets: readonly DoneSet[]): DoneDose {
  const summed = (
    of: EstimatedQuantity,
    pick: (set: DoneSet) => Omit<LoadFigure, 'of'> | null,
  ): SummedDose | null => {
    const figures = sets.flatMap((set) => {
      const figure = pick(set);
      return figure === null ? [] : [{ ...figure, of }];
    });
    if (figures.length === 0) return null;
    return { figure: sumOf(figures, of), setsWithFigure: figures.length, setCount: sets.length };
  };
  return {
    timeUnderTension: summed('time-under-tension', ({ measured }) => {
      const value = measured?.timeUnderTensionSeconds ?? null;
      return value === null ? null : { value, least: value, most: value };
    }),
    elbowImpulse: summed('elbow-impulse', ({ measured }) => measured?.elbowImpulseNms ?? null),
  };
}

/** All sets that were done on some training days. */
export function setsOfDays(days: readonly TrainingDay[]): DoneSet[] {
  return days.flatMap(({ exercises }) => exercises.flatMap(({ sets }) => sets));
}
