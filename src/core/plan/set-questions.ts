import type { SetPainVerdict } from './pain.ts';
import type { PlannedExerciseName } from './plan.ts';
import type { DoneSet } from './training-day.ts';

/** What is asked after a set, one question at a time. offers: pain has passed the ceiling. */
export type SetQuestion = 'pain' | 'offers' | 'places' | 'effort' | 'hardest';

/** The questions about a set in order, by what was answered of it so far. */
export function questionsOf(
  exercise: PlannedExerciseName,
  set: Pick<DoneSet, 'painAfter'> | null,
  { verdict }: Pick<SetPainVerdict, 'verdict'>,
): readonly SetQuestion[] {
  return [
    'pain',
    ...(verdict === 'above' ? (['offers'] as const) : []),
    ...((set?.painAfter ?? 0) > 0 ? (['places'] as const) : []),
    'effort',
    ...(exercise === 'band-curl' ? (['hardest'] as const) : []),
  ];
}

/** The question after one; null after the last. */
export function questionAfter(asked: readonly SetQuestion[], question: SetQuestion): SetQuestion | null {
  return asked[asked.indexOf(question) + 1] ?? null;
}

/** The question before one, or the last when all are answered; the first has none before it and stays. */
export function questionBefore(asked: readonly SetQuestion[], question: SetQuestion | null): SetQuestion {
  const place = question === null ? asked.length : asked.indexOf(question);
  return asked[place - 1] ?? 'pain';
}
