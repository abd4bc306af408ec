import { instantSeconds } from './calendar.ts';
import type { Plan } from './plan.ts';
import type { TrainingDay } from './training-day.ts';

/** Versions of one plan, the oldest first. */
export function inOrder(versions: readonly Plan[]): Plan[] {
  return [...versions].sort((a, b) => a.version - b.version);
}

/** The version that a training day followed; where it is not among those that are known, the nearest older, else the oldest. */
export function followedVersion(versions: readonly Plan[], day: TrainingDay): Plan | null {
  const ordered = inOrder(versions);
  return ordered.findLast(({ version }) => version <= day.planVersion) ?? ordered[0] ?? null;
}

/** The number of the version with which the newest version's stage began; 1 without versions. */
export function firstVersionOfStage(versions: readonly Plan[]): number {
  const ordered = inOrder(versions);
  const newest = ordered.at(-1);
  const otherStage = ordered.findLastIndex(({ stageKey }) => stageKey !== newest?.stageKey);
  return ordered[otherStage + 1]?.version ?? 1;
}

/** Training days in the order in which they began. */
export function daysInOrder(days: readonly TrainingDay[]): TrainingDay[] {
  return [...days].sort((a, b) => instantSeconds(a.startedAt) - instantSeconds(b.startedAt));
}
