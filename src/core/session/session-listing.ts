import type { Exercise, ExerciseSettings } from '../exercises/exercise.ts';
import type { FollowedPlan } from '../plan/plan.ts';
import type { Answers, SessionHeader, SetFindings } from './session-record.ts';
import { summariseSession, type SetSummary } from './summary.ts';

/** Raise it when the facts below change: whoever keeps them works them out again from the sessions. */
export const FACTS_VERSION = 1;

/**
 * What a list says of a session without opening it, small enough that ten thousand of them are read at once. It follows
 * from the session and can be worked out again at any time.
 */
export interface ListedFacts {
  readonly id: string;
  /** Moment with offset, as in the record. */
  readonly createdAt: string;
  readonly exercise: Exercise;
  readonly side: ExerciseSettings['side'];
  readonly sourceKind: SessionHeader['source']['kind'];
  readonly plan: FollowedPlan | null;
  /** Sets that were ended or cut off and judged. */
  readonly setCount: number;
  readonly whole: SetSummary;
  /** The most pain said of any set, before or after it, 0 to 10; null when none was said. */
  readonly painMost: number | null;
  /** The most effort said of any set or hold, 0 to 10; null when none was said. */
  readonly effortMost: number | null;
}

/** What the facts need of a set: no frames. */
export interface ListedSet {
  readonly beginning: { readonly painBefore: number | null };
  readonly findings: SetFindings | null;
  readonly answers: Answers | null;
}

/** The facts of a session from its header and those of its sets that were judged. */
export function listedFacts(header: SessionHeader, sets: readonly ListedSet[]): ListedFacts {
  const findings = sets.flatMap((set) => set.findings ?? []);
  return {
    id: header.id,
    createdAt: header.createdAt,
    exercise: header.settings.exercise,
    side: header.settings.side,
    sourceKind: header.source.kind,
    plan: header.plan,
    setCount: findings.length,
    whole: summariseSession(findings).whole,
    painMost: most(
      sets.flatMap(({ beginning, answers }) => [
        beginning.painBefore,
        answers?.painBefore ?? null,
        answers?.painAfter ?? null,
      ]),
    ),
    effortMost: most(
      sets.flatMap(({ answers }) => [answers?.effort ?? null, ...(answers?.effortAfterHolds ?? [])]),
    ),
  };
}

function most(values: readonly (number | null)[]): number | null {
  const said = values.filter((value) => value !== null);
  return said.length === 0 ? null : Math.max(...said);
}
