import { instantSeconds } from './calendar.ts';
import { isMeasuredExercise, type Plan, type PlannedExercise } from './plan.ts';
import type { PlanQuestion, SessionQuestion } from './safety-questions.ts';
import type { TrainingDay } from './training-day.ts';

/** Whether holds at high effort may start, and why. The sentences stand in feedback/safety-words.ts. */
export type HoldClearance =
  | { readonly mayStart: true; readonly because: 'no-yes' | 'therapist-allowed' }
  | {
      readonly mayStart: false;
      readonly because: 'not-asked' | 'waits-for-therapist' | 'withheld';
      readonly yes: readonly PlanQuestion[];
    };

/**
 * Whether holds may start by the questions before the first plan. A yes waits for the therapist, and so does one that was
 * given after they decided. No for an answer to all of them clears nobody: it only leaves nothing to wait for.
 */
export function mayHoldsStart({
  screening,
  highEffort,
}: Pick<Plan, 'screening' | 'highEffort'>): HoldClearance {
  const yes = screening?.yes ?? [];
  if (highEffort?.decided === 'withheld') return { mayStart: false, because: 'withheld', yes };
  if (screening === null) return { mayStart: false, because: 'not-asked', yes };
  if (yes.length === 0) return { mayStart: true, because: 'no-yes' };
  if (highEffort === null || instantSeconds(highEffort.decidedAt) < instantSeconds(screening.answeredAt))
    return { mayStart: false, because: 'waits-for-therapist', yes };
  return { mayStart: true, because: 'therapist-allowed' };
}

/** Whether an exercise of a plan may start; only holds wait for the questions before the plan. */
export function mayExerciseStart(
  plan: Pick<Plan, 'screening' | 'highEffort'>,
  exercise: PlannedExercise,
): HoldClearance {
  const isHold =
    exercise.dose.kind === 'hold' || (isMeasuredExercise(exercise) && exercise.exercise === 'hold');
  return isHold ? mayHoldsStart(plan) : { mayStart: true, because: 'no-yes' };
}

/** Whether a session may start by the questions before it. */
export type SessionClearance =
  | { readonly mayStart: true }
  | { readonly mayStart: false; readonly because: 'not-asked' }
  | { readonly mayStart: false; readonly because: 'seek-care'; readonly yes: readonly SessionQuestion[] };

/** A yes to any question before a session means no session, and care now. No to all of them clears nobody. */
export function maySessionStart({
  safetyYes,
  safetyAnsweredAt,
}: Pick<TrainingDay, 'safetyYes' | 'safetyAnsweredAt'>): SessionClearance {
  if (safetyYes.length > 0) return { mayStart: false, because: 'seek-care', yes: safetyYes };
  return safetyAnsweredAt === null ? { mayStart: false, because: 'not-asked' } : { mayStart: true };
}
