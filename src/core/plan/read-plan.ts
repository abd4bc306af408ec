import { parseGuarded, type GuardedProblem } from '../documents/guarded-text.ts';
import { readDocument, type DocumentKind } from '../documents/read-document.ts';
import { migrationsUpTo } from '../documents/stepwise-migration.ts';
import { PLAN_FORMAT, PLAN_SCHEMA_VERSION, planSchema, type Plan } from './plan.ts';
import { DAY_FORMAT, DAY_SCHEMA_VERSION, trainingDaySchema, type TrainingDay } from './training-day.ts';

/**
 * Characters that the text of a plan or a training day may have at most. The largest plan that the schema allows, twelve
 * stages of eight exercises with every threshold changed and every note written out, has under half of it.
 */
export const MOST_CHARACTERS = 1_000_000;

/** Why a text is no plan or no training day that can be used. The sentences stand in feedback/plan-words.ts. */
export type PlanProblem = GuardedProblem | { readonly kind: 'link-damaged' };

/** A plan, or why there is none. */
export type PlanReading =
  { readonly ok: true; readonly plan: Plan } | { readonly ok: false; readonly problem: PlanProblem };

/** A training day, or why there is none. */
export type DayReading =
  { readonly ok: true; readonly day: TrainingDay } | { readonly ok: false; readonly problem: PlanProblem };

/** A new version of either schema adds its step here and a sample of the version before in tests/fixtures/plans. */
const PLAN: DocumentKind<typeof planSchema> = {
  format: PLAN_FORMAT,
  version: PLAN_SCHEMA_VERSION,
  steps: migrationsUpTo(PLAN_SCHEMA_VERSION, [
    // Version 2 may name the key that packages for the therapist are locked with.
    { from: 1, migrate: (plan) => ({ ...plan, therapistKey: null }) },
  ]),
  schema: planSchema,
  whole: 'the whole plan',
};
const DAY: DocumentKind<typeof trainingDaySchema> = {
  format: DAY_FORMAT,
  version: DAY_SCHEMA_VERSION,
  steps: migrationsUpTo(DAY_SCHEMA_VERSION, []),
  schema: trainingDaySchema,
  whole: 'the whole training day',
};

/** Reads a plan from the text of a file or a link: the one gate for every plan that comes from outside. */
export function readPlan(text: string): PlanReading {
  const parsed = parseGuarded(text, MOST_CHARACTERS);
  return parsed.ok ? readPlanValue(parsed.value) : parsed;
}

/** The same for a value that has been parsed, as from the browser's own store. */
export function readPlanValue(value: unknown): PlanReading {
  const reading = readDocument(value, PLAN);
  return reading.ok ? { ok: true, plan: reading.value } : reading;
}

/** Reads a training day from the text of a file. */
export function readDay(text: string): DayReading {
  const parsed = parseGuarded(text, MOST_CHARACTERS);
  return parsed.ok ? readDayValue(parsed.value) : parsed;
}

/** The same for a value that has been parsed. */
export function readDayValue(value: unknown): DayReading {
  const reading = readDocument(value, DAY);
  return reading.ok ? { ok: true, day: reading.value } : reading;
}
