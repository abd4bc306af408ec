import { instantSeconds } from './calendar.ts';
import type { Decision } from './decision.ts';
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

/** Whether a session may start by the questions before it, today's and earlier ones. */
export type SessionClearance =
  | { readonly mayStart: true }
  | { readonly mayStart: false; readonly because: 'not-asked' }
  | { readonly mayStart: false; readonly because: 'seek-care'; readonly yes: readonly SessionQuestion[] }
  | { readonly mayStart: false; readonly because: 'waits-for-therapist'; readonly since: TrainingDay };

/**
 * A yes to any question before a session means no session, and care now. No to all of them clears nobody: after an earlier
 * yes no session starts before the therapist has decided or handed over a newer version of the plan.
 */
export function maySessionStart(
  { safetyYes, safetyAnsweredAt }: Pick<TrainingDay, 'safetyYes' | 'safetyAnsweredAt'>,
  past: SafetyPast,
): SessionClearance {
  if (safetyYes.length > 0) return { mayStart: false, because: 'seek-care', yes: safetyYes };
  const since = earlierYes(past);
  if (since !== null) return { mayStart: false, because: 'waits-for-therapist', since };
  return safetyAnsweredAt === null ? { mayStart: false, because: 'not-asked' } : { mayStart: true };
}

/** What has gone before. */
export interface SafetyPast {
  readonly days: readonly TrainingDay[];
  readonly versions: readonly Plan[];
  readonly decisions: readonly Decision[];
}

/** The last training day with a yes that no therapist has dealt with since, or null. */
export function earlierYes({ days, ...past }: SafetyPast): TrainingDay | null {
  return days.findLast((day) => day.safetyYes.length > 0 && !isDealtWith(day, past)) ?? null;
}

/** Whether the therapist has decided, or handed over a newer version of the plan, since the questions of a day were answered. */
export function isDealtWith(
  { safetyAnsweredAt, startedAt }: TrainingDay,
  { versions, decisions }: Pick<SafetyPast, 'versions' | 'decisions'>,
): boolean {
  const answered = instantSeconds(safetyAnsweredAt ?? startedAt);
  return (
    decisions.some(({ decidedAt }) => instantSeconds(decidedAt) > answered) ||
    versions.some(({ writtenAt }) => instantSeconds(writtenAt) > answered)
  );
}
