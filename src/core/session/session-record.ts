import { z } from 'zod';
import { exerciseSettingsSchema } from '../exercises/exercise.ts';
import { setJudgementSchema } from '../exercises/judgement.ts';
import { thresholdsSchema } from '../exercises/thresholds.ts';
import { NOT_MEASURED_REASONS } from '../kinematics/measured.ts';
import { followedPlanSchema } from '../plan/plan.ts';
import { hardestPlaceSchema } from '../plan/training-day.ts';
import { givenCueSchema, pauseSchema } from './cue-log.ts';
import { frameSeriesSchema } from './quantised-frames.ts';

/** Says that a file is a session record of this project. */
export const RECORD_FORMAT = 'forearmed-session-record';

/** The version that this code writes. Raise it with a migration in migrations.ts and a kept sample. */
export const RECORD_VERSION = 6;

/** A moment of the wall clock with its offset, for example 2026-03-02T18:05:09.250+01:00. */
const momentSchema = z.iso.datetime({ offset: true });

/** A numeric rating, 0 none to 10 the most; null when it was not asked or not answered. */
const ratingSchema = z.int().min(0).max(10).nullable();

/** What gave the landmarks, as in pose/pose-estimator.ts. */
const estimatorSchema = z.strictObject({
  model: z
    .enum(['blazepose-lite', 'blazepose-full', 'blazepose-heavy', 'blazepose-combined'])
    .describe('combined: full, full in a mirror and heavy looked at every picture, made one pose.'),
  runtime: z.string(),
  modelSha256s: z
    .array(z.string().regex(/^[0-9a-f]{64}$/))
    .min(1)
    .describe('Of the file of each landmark network that took part.'),
});

const sourceSchema = z.strictObject({
  kind: z.enum(['camera', 'clip', 'demo', 'shared-window']),
  label: z.string(),
  durationSeconds: z.number().min(0).nullable().describe('Length of the clip; null for a live source.'),
  widthPx: z.int().min(1),
  heightPx: z.int().min(1),
});

/** The part of a shared picture that was measured, as in pose/picture-tile.ts. */
const tileSchema = z.strictObject({
  leftPx: z.int().min(0),
  topPx: z.int().min(0),
  widthPx: z.int().min(1),
  heightPx: z.int().min(1),
  ofWidthPx: z.int().min(1).describe('Size of the whole shared picture.'),
  ofHeightPx: z.int().min(1),
  isMirrored: z
    .boolean()
    .describe(
      'True where the tile was shown as in a mirror and turned back; landmarks are those of the turned picture.',
    ),
});

/** What is known before the first set: when, with what, of whom, judged by what. */
export const sessionHeaderSchema = z.strictObject({
  format: z.literal(RECORD_FORMAT),
  schemaVersion: z.literal(RECORD_VERSION),
  id: z.uuid(),
  createdAt: momentSchema,
  software: z.strictObject({ name: z.string(), version: z.string() }),
  estimator: estimatorSchema,
  source: sourceSchema,
  settings: exerciseSettingsSchema,
  thresholds: thresholdsSchema.describe('Every threshold that the judgement used.'),
  plan: followedPlanSchema
    .nullable()
    .describe('The plan, its version, and the exercise of it that was done; null without a plan.'),
});
export type SessionHeader = z.infer<typeof sessionHeaderSchema>;

/** What the person said about a set. */
export const answersSchema = z.strictObject({
  painBefore: ratingSchema,
  painAfter: ratingSchema,
  effortAfterHolds: z
    .array(ratingSchema)
    .describe(
      'Effort felt, one for each hold of the judgement in order; null: position held, effort unknown.',
    ),
  effort: ratingSchema.describe('Effort felt over the whole set, where it was asked so.'),
  hardest: hardestPlaceSchema
    .nullable()
    .describe(
      'Where in the movement a set with a band was hardest, as felt; null: not asked or not answered.',
    ),
});
export type Answers = z.infer<typeof answersSchema>;

/** The view of a set and its scale, as in kinematics/kinematic-frame.ts. */
const viewSchema = z.strictObject({
  cameraYawDeg: z.number().nullable(),
  method: z.enum(['image-plane', 'turned-image-plane', 'set-plane']),
  upperArmCm: z.number().nullable(),
  scaleSource: z.string().nullable(),
  lowPassHz: z.number().nullable(),
  rateHz: z.number().nullable(),
});

const measuredTimeSchema = z.strictObject({
  totalSeconds: z.number().min(0),
  share: z
    .number()
    .min(0)
    .max(1)
    .nullable()
    .describe('Part of the time with a measured elbow; null without time.'),
  notMeasuredSeconds: z
    .partialRecord(z.enum(NOT_MEASURED_REASONS), z.number().min(0))
    .describe('The rest, by reason.'),
});
/** How much of a set was measured, and why the rest was not. */
export type MeasuredTime = z.infer<typeof measuredTimeSchema>;

const rangeDegSchema = z.strictObject({ leastDeg: z.number(), mostDeg: z.number() });

/** What is worked out from a set's frames; working it out again gives the same. */
export const setFindingsSchema = z.strictObject({
  view: viewSchema,
  measuredTime: measuredTimeSchema,
  elbowFlexion: rangeDegSchema
    .nullable()
    .describe('Least and largest measured elbow flexion of the treated arm; null when none was measured.'),
  judgement: setJudgementSchema,
});
export type SetFindings = z.infer<typeof setFindingsSchema>;

/** One set: when it began, what the person said, what was found, and the frames from which it was found. */
const recordedSetSchema = setFindingsSchema.extend({
  startedAt: momentSchema,
  cutOff: z.boolean().describe('True when recording broke off (closed tab, crash) before the set was ended.'),
  answers: answersSchema,
  cues: z.array(givenCueSchema).describe('Every cue that was given, in order of time.'),
  pauses: z.array(pauseSchema).describe('Times of the set that nobody recorded, in order.'),
  tile: tileSchema
    .nullable()
    .describe('The part of a shared window that was framed and measured; null where the whole picture was.'),
  frames: frameSeriesSchema,
});
export type RecordedSet = z.infer<typeof recordedSetSchema>;

/** A whole session as it is kept, exported and read back. It holds no picture. */
export const sessionRecordSchema = sessionHeaderSchema.extend({ sets: z.array(recordedSetSchema) });
export type SessionRecord = z.infer<typeof sessionRecordSchema>;

/** The part of a record that is known before its first set. */
export function headerOf({ sets: _sets, ...header }: SessionRecord): SessionHeader {
  return header;
}

/** The part of a recorded set that is worked out from its frames. */
export function findingsOf({ view, measuredTime, elbowFlexion, judgement }: RecordedSet): SetFindings {
  return { view, measuredTime, elbowFlexion, judgement };
}
