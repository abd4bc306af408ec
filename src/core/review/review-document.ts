import { z } from 'zod';
import { setJudgementSchema } from '../exercises/judgement.ts';
import { measuredSchema } from '../kinematics/measured.ts';

/** Says that a file is a review of a session of this project. */
export const REVIEW_FORMAT = 'forearmed-session-review';

/** The version that this code writes. Raise it with a step in read-review.ts and a kept sample. */
export const REVIEW_VERSION = 1;

const momentSchema = z.iso.datetime({ offset: true });
const setIndexSchema = z.int().min(0).max(199).describe('Place of the set in the record, counted from 0.');
/** Records of a camera that were made with an earlier version count from when the machine was started, which may be months ago. */
const secondsSchema = z.number().min(0).max(1e8).describe("Seconds in the set's own clock.");

/** A moment of a set. */
const placeSchema = z.strictObject({ setIndex: setIndexSchema, timeSeconds: secondsSchema });
export type Place = z.infer<typeof placeSchema>;

/** A point of the picture, pixels from its upper left corner, y down; it may lie a little outside. */
const pointSchema = z.strictObject({
  x: z.number().min(-20_000).max(20_000),
  y: z.number().min(-20_000).max(20_000),
});
export type PicturePoint = z.infer<typeof pointSchema>;

/** The size of the picture that points refer to. */
const pictureSchema = z.strictObject({
  widthPx: z.int().min(1).max(20_000),
  heightPx: z.int().min(1).max(20_000),
});

/** A hold or a repetition that a correction is about. */
const itemRefSchema = z.discriminatedUnion('from', [
  z
    .strictObject({
      from: z.literal('record'),
      index: z.int().min(0).max(9999).describe("Place in the record's list, counted from 0."),
      startSeconds: z.number(),
      endSeconds: z.number(),
    })
    .describe('As the record has it. The times show whether it is the one that was meant.'),
  z
    .strictObject({
      from: z.literal('correction'),
      correctionId: z.uuid(),
      part: z.int().min(0).max(1).describe('Which of what the correction put in its place, counted from 0.'),
    })
    .describe('As an earlier correction left it.'),
]);
export type ItemRef = z.infer<typeof itemRefSchema>;

/** What a correction does. */
const CORRECTION_KINDS = ['add', 'discard', 'split', 'join', 'rejudge'] as const;
export type CorrectionKind = (typeof CORRECTION_KINDS)[number];

/** How many holds or repetitions each kind takes away, and how many it puts in their place. */
export const CORRECTION_COUNTS: Readonly<
  Record<CorrectionKind, { readonly takes: number; readonly puts: number }>
> = {
  add: { takes: 0, puts: 1 },
  discard: { takes: 1, puts: 0 },
  split: { takes: 1, puts: 2 },
  join: { takes: 2, puts: 1 },
  rejudge: { takes: 1, puts: 1 },
};

/** One correction of what the program judged. It is never taken out of the document, only withdrawn. */
export const correctionSchema = z
  .strictObject({
    id: z.uuid(),
    kind: z.enum(CORRECTION_KINDS),
    item: z.enum(['hold', 'repetition']),
    setIndex: setIndexSchema,
    targets: z.array(itemRefSchema).max(2).describe('What it stands for; none where something was missed.'),
    instead: setJudgementSchema.describe(
      'What stands in their place, measured anew from the same landmarks.',
    ),
    reason: z.string().trim().min(1).max(400),
    at: momentSchema,
    withdrawnAt: momentSchema.nullable().describe('When it was taken back; null while it holds.'),
  })
  .refine(
    ({ kind, item, targets, instead: { holds, repetitions } }) => {
      const { takes, puts } = CORRECTION_COUNTS[kind];
      const [of, others] = item === 'hold' ? [holds, repetitions] : [repetitions, holds];
      return targets.length === takes && of.length === puts && others.length === 0;
    },
    { error: 'A correction takes and puts as many holds or repetitions as its kind says.' },
  );
export type Correction = z.infer<typeof correctionSchema>;

const noteSchema = z.strictObject({
  id: z.uuid(),
  place: placeSchema.nullable().describe('The moment it is tied to; null: the whole session.'),
  text: z.string().trim().min(1).max(2000),
  at: momentSchema,
});

/** What can be drawn on a picture. */
const shapeSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('stroke'), points: z.array(pointSchema).min(2).max(2000) }),
  z.strictObject({ kind: z.literal('arrow'), from: pointSchema, to: pointSchema }),
  z.strictObject({ kind: z.literal('marker'), at: pointSchema }),
]);
export type DrawnShape = z.infer<typeof shapeSchema>;

const drawingSchema = z.strictObject({
  id: z.uuid(),
  place: placeSchema,
  picture: pictureSchema,
  shapes: z.array(shapeSchema).min(1).max(100),
  label: z.string().trim().max(200).describe('What it shows, in words; also for whoever cannot see it.'),
  at: momentSchema,
});
export type Drawing = z.infer<typeof drawingSchema>;

/** Elbow flexion as measured by hand over the picture, beside what the program says of the same picture. */
const handAngleSchema = z.strictObject({
  id: z.uuid(),
  place: placeSchema,
  picture: pictureSchema,
  shoulder: pointSchema,
  elbow: pointSchema,
  wrist: pointSchema,
  flexionDeg: z
    .number()
    .min(0)
    .max(180)
    .describe('0 straight; the angle in the plane of the picture, so without what the view foreshortens.'),
  program: measuredSchema.describe("The program's elbow flexion at that moment, degrees."),
  at: momentSchema,
});
export type HandAngle = z.infer<typeof handAngleSchema>;

/** What the patient is told of the session. */
const answerSchema = z.strictObject({
  text: z.string().trim().max(4000),
  moments: z
    .array(
      z.strictObject({
        id: z.uuid(),
        place: placeSchema,
        words: z.string().trim().max(300),
        withDrawings: z.boolean().describe('Shows the drawings of that moment as well.'),
      }),
    )
    .max(20),
});
export type Answer = z.infer<typeof answerSchema>;

/** A therapist's review of one session. It stands beside the record, which itself never changes. */
export const reviewDocumentSchema = z.strictObject({
  format: z.literal(REVIEW_FORMAT),
  schemaVersion: z.literal(REVIEW_VERSION),
  id: z.uuid(),
  scope: z
    .enum(['whole', 'for-patient'])
    .describe(
      'for-patient: a copy without notes, hand-measured angles, withdrawn corrections and drawings that were not chosen.',
    ),
  sessionId: z.uuid(),
  recordDigest: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .describe('SHA-256 of what the record says was found (record-digest.ts): what was reviewed.'),
  follows: z.uuid().nullable().describe('The signed review that this one continues; null for the first.'),
  createdAt: momentSchema,
  changedAt: momentSchema,
  corrections: z.array(correctionSchema).max(500),
  notes: z.array(noteSchema).max(300),
  drawings: z.array(drawingSchema).max(200),
  handAngles: z.array(handAngleSchema).max(300),
  answer: answerSchema.nullable(),
  signOff: z
    .strictObject({ name: z.string().trim().min(1).max(120), at: momentSchema })
    .nullable()
    .describe('Who signed it and when; from then on it does not change.'),
});
export type ReviewDocument = z.infer<typeof reviewDocumentSchema>;
