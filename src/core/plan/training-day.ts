import { z } from 'zod';
import { planKeySchema, plannedExerciseNameSchema } from './plan.ts';
import { SESSION_QUESTIONS } from './safety-questions.ts';

/** Says that a file is a training day of this project. */
export const DAY_FORMAT = 'forearmed-training-day';
export const DAY_SCHEMA_VERSION = 1;

const momentSchema = z.iso.datetime({ offset: true });
const ratingSchema = z.int().min(0).max(10).nullable().describe('0 none to 10 the most; null: not answered.');

/** Where pain was felt. */
export const PAIN_PLACES = [
  'crook-of-elbow',
  'upper-arm',
  'shoulder',
  'forearm',
  'wrist-or-hand',
  'elsewhere',
] as const;
export type PainPlace = (typeof PAIN_PLACES)[number];
const painPlacesSchema = z.array(z.enum(PAIN_PLACES)).max(PAIN_PLACES.length);

/** Where in the movement a set was hardest, as felt. */
export const HARDEST_PLACES = ['straight', 'middle', 'bent', 'the-same'] as const;
export const hardestPlaceSchema = z.enum(HARDEST_PLACES);
export type HardestPlace = z.infer<typeof hardestPlaceSchema>;

/** What was measured of a set, copied from its session record; null where it was not measured or has no meaning. */
const measuredDoneSchema = z.strictObject({
  heldSeconds: z.number().min(0).nullable(),
  meanHoldDeg: z.number().nullable(),
  inRangeShare: z
    .number()
    .min(0)
    .max(1)
    .nullable()
    .describe('Of the time from the first entry into the target range to the last exit.'),
  handRoseUpperArms: z
    .number()
    .nullable()
    .describe('Most that the hand rose in a hold; the bar may have lifted.'),
  repetitions: z.int().min(0).nullable().describe('Full repetitions, shoulder-dominant ones included.'),
  partialRepetitions: z.int().min(0).nullable(),
  shoulderDominant: z.int().min(0).nullable(),
  judgedRepetitions: z.int().min(0).nullable().describe('Repetitions in which curl or row could be told.'),
  loweringSeconds: z.number().min(0).nullable().describe('Mean over the repetitions.'),
  rangeDeg: z.number().min(0).nullable().describe('Mean range of the repetitions.'),
  shoulderShare: z.number().nullable().describe("Mean of the shoulder's share of the motion, 0 to 1."),
  timeUnderTensionSeconds: z.number().min(0).nullable(),
  elbowImpulseNms: z
    .strictObject({ value: z.number(), least: z.number(), most: z.number() })
    .nullable()
    .describe('Elbow moment times time, an estimate with its range; newton metre seconds.'),
});
export type MeasuredDone = z.infer<typeof measuredDoneSchema>;

/** One set as done: what the person says of it, and what was measured. */
const doneSetSchema = z.strictObject({
  saidDone: z
    .strictObject({ holdSeconds: z.int().min(0).nullable(), repetitions: z.int().min(0).nullable() })
    .nullable()
    .describe('What the person says was done where nothing is measured.'),
  measured: measuredDoneSchema.nullable(),
  painAfter: ratingSchema,
  effort: ratingSchema,
  hardest: hardestPlaceSchema.nullable(),
  painOffer: z
    .enum(['end-set', 'shorten', 'step-down', 'went-on'])
    .nullable()
    .describe('What was chosen when pain passed the ceiling.'),
});
export type DoneSet = z.infer<typeof doneSetSchema>;

const doneExerciseSchema = z.strictObject({
  exerciseKey: planKeySchema,
  exercise: plannedExerciseNameSchema,
  recordId: z
    .uuid()
    .nullable()
    .describe('The session record with the frames; null where nothing was measured.'),
  sets: z.array(doneSetSchema).max(40),
});
export type DoneExercise = z.infer<typeof doneExerciseSchema>;

const nextMorningSchema = z.strictObject({
  answeredAt: momentSchema,
  pain: ratingSchema,
  painPlaces: painPlacesSchema,
});

/** One training day: what was asked before, done, felt, and felt the next morning. It holds no picture and no name. */
export const trainingDaySchema = z.strictObject({
  format: z.literal(DAY_FORMAT),
  schemaVersion: z.literal(DAY_SCHEMA_VERSION),
  id: z.uuid(),
  planId: z.uuid(),
  planVersion: z.int().min(1).max(9999),
  stageKey: planKeySchema,
  startedAt: momentSchema,
  endedAt: momentSchema.nullable(),
  safetyYes: z
    .array(z.enum(SESSION_QUESTIONS))
    .max(SESSION_QUESTIONS.length)
    .describe('Questions before the session answered with yes.'),
  safetyAnsweredAt: momentSchema.nullable(),
  painBefore: ratingSchema,
  exercises: z.array(doneExerciseSchema).max(16),
  notAsked: z
    .array(planKeySchema)
    .max(16)
    .optional()
    .describe('Exercises that were not asked on this day and not begun: done on all their days of the week.'),
  droppedSets: z
    .array(z.strictObject({ recordId: z.uuid(), count: z.int().min(1).max(40) }))
    .max(16)
    .optional()
    .describe('Sets of a session record that the person said were none; the record keeps their frames.'),
  painAtEnd: ratingSchema,
  painPlaces: painPlacesSchema,
  endedBecause: z
    .enum(['done', 'stopped', 'pain', 'safety', 'broken-off', 'newer-plan'])
    .nullable()
    .describe('newer-plan: begun anew on the same date by a newer version of the plan.'),
  nextMorning: nextMorningSchema.nullable(),
});
export type TrainingDay = z.infer<typeof trainingDaySchema>;
