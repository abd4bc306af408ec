import type { Dose } from '../plan/dose.ts';
import type { PlannedExerciseName } from '../plan/plan.ts';

/** The exercises of a plan by the names that every screen uses. */
export const PLANNED_EXERCISE_WORDS: Readonly<Record<PlannedExerciseName, string>> = {
  hold: 'Isometric hold',
  'body-curl': 'Body-moving curl',
  'band-curl': 'Band curl',
  'free-curl': 'Free curl',
  row: 'Row',
  'chin-up': 'Chin-up',
  pulling: 'Pulling work',
};

/** What is asked on one day: "5 sets of 30 s, the first 2 easier", "3 sets of 8". */
export function doseWords(dose: Dose): string {
  const sets = dose.sets === 1 ? '1 set' : `${dose.sets} sets`;
  if (dose.kind === 'repetitions') return `${sets} of ${dose.repetitions}`;
  const easier = dose.easierSetsBefore;
  if (easier === 0) return `${sets} of ${dose.holdSeconds} s`;
  return `${sets} of ${dose.holdSeconds} s, the first ${easier === 1 ? 'one' : easier} easier`;
}

/** The times of a repetition: "bend in 3 s, lower in 3 s"; empty for a hold. */
export function tempoWords(dose: Dose): string {
  return dose.kind === 'hold' ? '' : `bend in ${dose.bendingSeconds} s, lower in ${dose.loweringSeconds} s`;
}

/** How often: "3 days a week", "every day". */
export function daysAWeekWords({ daysAWeek }: Dose): string {
  if (daysAWeek === 7) return 'every day';
  return daysAWeek === 1 ? '1 day a week' : `${daysAWeek} days a week`;
}
