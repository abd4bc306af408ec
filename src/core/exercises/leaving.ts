import type { Exercise } from './exercise.ts';
import type { LiveJudge } from './live-judge.ts';

/**
 * After so much rest, seconds, a person who was at work has left the position, and a set of a plan ends by itself: a hold
 * as soon as its time out of the range ends it in the record (holdSeparationSeconds), repetitions after a pause that
 * nobody makes within a set. Common practice, no source.
 */
export const LEAVING_SECONDS = { hold: 5, repetitions: 10 } as const;

/** At work: in the range of a hold, or moving after the first repetition. Walking into place is no work. */
export function isAtWork({
  phase,
  repetitions,
  partialRepetitions,
}: Pick<LiveJudge, 'phase' | 'repetitions' | 'partialRepetitions'>): boolean {
  return phase === 'in-range' || (phase !== 'rest' && repetitions + partialRepetitions > 0);
}

/**
 * Whether whoever was at work in a set has left the position, so that the set ends.
 * @param restingSeconds - since the arm was last at work in this set; 0 before it was
 */
export function hasLeftPosition(exercise: Exercise, restingSeconds: number): boolean {
  return restingSeconds > LEAVING_SECONDS[exercise === 'hold' ? 'hold' : 'repetitions'];
}
