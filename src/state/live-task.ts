import type { ExerciseSettings } from '../core/exercises/exercise.ts';
import { DEFAULT_THRESHOLDS, type Thresholds } from '../core/exercises/thresholds.ts';
import type { AskedSet } from '../core/plan/asked-done.ts';
import type { FollowedPlan } from '../core/plan/plan.ts';
import type { Preferences } from '../core/session/preferences.ts';
import type { FinishedSet } from './session-keeping.svelte.ts';

/** What is done in a session: of whom, judged by what, and by which plan. */
export interface LiveTask {
  readonly exercise: ExerciseSettings;
  readonly thresholds: Thresholds;
  /** The exercise of a plan that is done; null without a plan. */
  readonly plan: FollowedPlan | null;
}

/** What a plan asks of a session, and where its sets go. */
export interface AskedWork {
  readonly task: LiveTask;
  /** Pain before the session, 0 to 10; null where it was not said. */
  readonly painBefore: number | null;
  /** What the next set asks for; null when it asks for nothing more. */
  readonly nextSet: () => AskedSet | null;
  /**
   * Whether a set may begin by itself when the person is in position and still: the view, the bar and the angle have been
   * checked, the rest is over, and nothing is offered because of pain.
   */
  readonly mayBegin: () => boolean;
  /** Called when a source is opened: what was checked before another one counts no longer. */
  readonly onOpen: () => void;
  /** Called with the first picture of a set. */
  readonly onBegin: () => void;
  /** Called when a set has been judged. */
  readonly onSet: (set: FinishedSet, sessionId: string) => void;
}

/** An exercise that no plan asks for. */
export function freeTask(exercise: ExerciseSettings): LiveTask {
  return { exercise, thresholds: DEFAULT_THRESHOLDS, plan: null };
}

/** The exercise that was chosen on the first screen. Throws while no arm is. */
export function chosenTask({
  exercise,
  side,
  variant,
  statureCm,
}: Pick<Preferences, 'exercise' | 'side' | 'variant' | 'statureCm'>): LiveTask {
  if (side === null) throw new Error('chosenTask: choose the treated arm before opening a source.');
  return freeTask({ exercise, side, statureCm, variant: exercise === 'band-curl' ? variant : null });
}

/** The target range of the elbow, degrees; null where the exercise has none. */
export function targetRange({
  exercise: { exercise },
  thresholds: { targetAngleDeg, toleranceDeg },
}: LiveTask): { readonly low: number; readonly high: number } | null {
  return exercise === 'hold'
    ? { low: targetAngleDeg - toleranceDeg, high: targetAngleDeg + toleranceDeg }
    : null;
}
