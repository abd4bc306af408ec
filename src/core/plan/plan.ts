import { z } from 'zod';
import { lineSchema } from '../documents/line.ts';
import { sideSchema, variantSchema } from '../exercises/exercise.ts';
import { THRESHOLD_NAMES, thresholdsSchema } from '../exercises/thresholds.ts';
import { bandSchema, barSchema, bodyCurlSetUpSchema, dumbbellSchema } from '../loads/equipment.ts';
import { doseSchema } from './dose.ts';
import { painRulesSchema } from './pain-rules.ts';
import { progressRulesSchema } from './progress-rules.ts';
import { PLAN_QUESTIONS } from './safety-questions.ts';
import { therapistKeySchema } from './therapist-key.ts';

/** Says that a file is a plan of this project. */
export const PLAN_FORMAT = 'forearmed-plan';

/** The version of the schema that this code writes. Raise it with a migration and a kept sample. */
export const PLAN_SCHEMA_VERSION = 2;

/** A moment of the wall clock with its offset, for example 2026-03-02T18:05:09.250+01:00. */
const momentSchema = z.iso.datetime({ offset: true });

/** A name that other documents refer to: unique within the plan. */
export const planKeySchema = z.string().regex(/^[a-z0-9-]{1,40}$/);

/** Exercises of a plan. The last three are asked for and answered, not measured. */
export const PLANNED_EXERCISES = [
  'hold',
  'body-curl',
  'band-curl',
  'free-curl',
  'row',
  'chin-up',
  'pulling',
] as const;
export const plannedExerciseNameSchema = z.enum(PLANNED_EXERCISES);
export type PlannedExerciseName = z.infer<typeof plannedExerciseNameSchema>;

/** The exercises' thresholds that the therapist changed; what is not named stays at its default. */
const changedThresholdsSchema = thresholdsSchema
  .pick(
    Object.fromEntries(THRESHOLD_NAMES.map((name) => [name, true])) as Record<
      (typeof THRESHOLD_NAMES)[number],
      true
    >,
  )
  .partial()
  .strict();

const plannedBasics = {
  key: planKeySchema,
  dose: doseSchema,
  note: lineSchema(400).nullable().describe("The therapist's own words to the patient."),
};

const measuredBasics = { ...plannedBasics, thresholds: changedThresholdsSchema };

const plannedRangeSchema = z
  .strictObject({ startFlexionDeg: z.number().min(-20).max(150), topFlexionDeg: z.number().min(0).max(170) })
  .refine(({ startFlexionDeg, topFlexionDeg }) => startFlexionDeg < topFlexionDeg, {
    message: 'A repetition starts straighter than it ends.',
  })
  .nullable()
  .describe('Planned ends of a repetition; null: the usual ends of the set.');

/** One exercise of a stage, with its own dose, thresholds and equipment. */
const plannedExerciseSchema = z.discriminatedUnion('exercise', [
  z.strictObject({ exercise: z.literal('hold'), ...measuredBasics, equipment: barSchema.nullable() }),
  z.strictObject({
    exercise: z.literal('body-curl'),
    ...measuredBasics,
    range: plannedRangeSchema,
    equipment: bodyCurlSetUpSchema.nullable(),
  }),
  z.strictObject({
    exercise: z.literal('band-curl'),
    ...measuredBasics,
    variant: variantSchema,
    range: plannedRangeSchema,
    equipment: bandSchema.nullable(),
  }),
  z.strictObject({
    exercise: z.literal('free-curl'),
    ...measuredBasics,
    range: plannedRangeSchema,
    equipment: dumbbellSchema.nullable(),
  }),
  z.strictObject({ exercise: z.literal('row'), ...plannedBasics }),
  z.strictObject({ exercise: z.literal('chin-up'), ...plannedBasics }),
  z.strictObject({ exercise: z.literal('pulling'), ...plannedBasics }),
]);
export type PlannedExercise = z.infer<typeof plannedExerciseSchema>;

/** A planned exercise that is measured. */
export type MeasuredPlannedExercise = Extract<PlannedExercise, { thresholds: unknown }>;

/** Whether a planned exercise is measured; rows, chin-ups and pulling are asked for and answered. */
export function isMeasuredExercise(exercise: PlannedExercise): exercise is MeasuredPlannedExercise {
  return 'thresholds' in exercise;
}

/** What is done on one training day, in order, until the therapist decides to go on. */
const stageSchema = z.strictObject({
  key: planKeySchema,
  name: lineSchema(80),
  exercises: z.array(plannedExerciseSchema).min(1).max(8),
});
export type Stage = z.infer<typeof stageSchema>;

/** What the therapist decided about holds at high effort, once the questions before the first plan are answered. */
const effortDecisionSchema = z.strictObject({
  decided: z.enum(['allowed', 'withheld']),
  decidedAt: momentSchema,
  reason: lineSchema(400),
});

/** Whose plan it is. No identity is needed: the label is whatever the therapist recognises. */
const planPersonSchema = z.strictObject({
  label: lineSchema(60),
  treatedSide: sideSchema,
  statureCm: z.number().min(80).max(250),
  bodyMassKg: z.number().min(25).max(300).nullable(),
});
export type PlanPerson = z.infer<typeof planPersonSchema>;

/** A plan at one of its versions. Every change is a new version with its date and reason; older ones are kept. */
export const planSchema = z
  .strictObject({
    format: z.literal(PLAN_FORMAT),
    schemaVersion: z.literal(PLAN_SCHEMA_VERSION),
    id: z.uuid(),
    version: z.int().min(1).max(9999),
    writtenAt: momentSchema,
    reason: lineSchema(400).describe('Why this version was written.'),
    person: planPersonSchema,
    screening: z
      .strictObject({
        answeredAt: momentSchema,
        yes: z.array(z.enum(PLAN_QUESTIONS)).max(PLAN_QUESTIONS.length),
      })
      .nullable()
      .describe('The questions before the first plan that were answered with yes; null: not asked yet.'),
    highEffort: effortDecisionSchema
      .nullable()
      .describe(
        'Null until a therapist decided: then no hold starts when a question before the plan was answered yes.',
      ),
    painRules: painRulesSchema,
    progressRules: progressRulesSchema,
    stages: z.array(stageSchema).min(1).max(12),
    stageKey: planKeySchema.describe('The stage that is followed now.'),
    therapistKey: therapistKeySchema
      .nullable()
      .describe(
        "The therapist's public key in the age format: what is sent is locked with it; null: with a passphrase.",
      ),
  })
  .superRefine((plan, context) => {
    const stageKeys = plan.stages.map(({ key }) => key);
    const exerciseKeys = plan.stages.flatMap(({ exercises }) => exercises.map(({ key }) => key));
    if (!stageKeys.includes(plan.stageKey))
      context.addIssue({
        code: 'custom',
        path: ['stageKey'],
        message: 'No stage of the plan has this name.',
      });
    for (const [path, keys] of [
      ['stages', stageKeys],
      ['exercises', exerciseKeys],
    ] as const)
      if (new Set(keys).size < keys.length)
        context.addIssue({ code: 'custom', path: [path], message: 'Two of them have the same name.' });
    plan.stages.forEach(({ exercises }, stage) => {
      exercises.forEach((exercise, place) => {
        const message = unfitDose(exercise);
        if (message !== null)
          context.addIssue({
            code: 'custom',
            path: ['stages', stage, 'exercises', place, 'dose'],
            message,
          });
      });
    });
  });
export type Plan = z.infer<typeof planSchema>;

/** What is wrong with the kind of dose for its exercise, or null. */
function unfitDose(exercise: PlannedExercise): string | null {
  const { dose } = exercise;
  if (dose.kind === 'hold' && dose.easierSetsBefore >= dose.sets)
    return 'No set is left after the easier ones.';
  if (!isMeasuredExercise(exercise) || (exercise.exercise === 'hold') === (dose.kind === 'hold')) return null;
  return exercise.exercise === 'hold' ? 'A hold is asked for in seconds.' : 'It is asked for in repetitions.';
}

/** Which plan, version, stage and exercise a session followed; what a session record keeps of its plan. */
export const followedPlanSchema = z.strictObject({
  planId: z.uuid(),
  planVersion: z.int().min(1).max(9999),
  stageKey: planKeySchema,
  exerciseKey: planKeySchema,
  dayId: z.uuid().describe('The training day that the session belongs to.'),
});
export type FollowedPlan = z.infer<typeof followedPlanSchema>;

/** The stage that a plan follows now. */
export function currentStage(plan: Plan): Stage {
  const stage = plan.stages.find(({ key }) => key === plan.stageKey);
  if (stage === undefined) throw new Error(`currentStage: the plan has no stage ${plan.stageKey}.`);
  return stage;
}
