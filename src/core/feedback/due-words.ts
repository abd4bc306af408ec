import type { Dose } from '../plan/dose.ts';
import type { ExerciseDue } from '../plan/weeks.ts';
import { weekdayWords } from './date-words.ts';
import { daysAWeekWords } from './dose-words.ts';
import { listWords } from './safety-words.ts';

/** Why an exercise is not asked today: "Not asked today: twice a week, done on Monday and Tuesday."; null where it is. */
export function notAskedSentence(due: ExerciseDue, dose: Dose): string | null {
  if (due.isAsked) return null;
  if (due.because === 'done-today')
    return 'Not asked again today: you did it earlier, before your plan was changed.';
  const often = { 1: 'once a week', 2: 'twice a week' }[dose.daysAWeek] ?? daysAWeekWords(dose);
  return `Not asked today: ${often}, done on ${listWords(due.doneOn.map(weekdayWords))}.`;
}
