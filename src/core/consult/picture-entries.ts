import { z } from 'zod';
import { jointsSchema } from './joints.ts';
import { lineSchema } from '../documents/line.ts';
import { CONSULT_LIMITS } from './limits.ts';

/** Pixels of the frozen picture; a line may leave it a little. */
const pointSchema = z.strictObject({ x: z.number().min(-1e4).max(2e4), y: z.number().min(-1e4).max(2e4) });
const pictureId = z.int().min(1).max(CONSULT_LIMITS.entries);

/** Points of a line at most: with more, a message would be too long. */
export const MOST_LINE_POINTS = 200;

/** What can be drawn for both. */
const sharedShapeSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('arrow'), from: pointSchema, to: pointSchema }),
  z.strictObject({ kind: z.literal('stroke'), points: z.array(pointSchema).min(2).max(MOST_LINE_POINTS) }),
  z.strictObject({ kind: z.literal('marker'), at: pointSchema }),
]);
export type SharedShape = z.infer<typeof sharedShapeSchema>;

/** Joints that can be pointed out. */
export const WATCHED_JOINTS = ['shoulder', 'elbow', 'wrist', 'hip'] as const;
export type WatchedJoint = (typeof WATCHED_JOINTS)[number];

/**
 * Entries of the course about the picture, all of them the therapist's. A picture is named by its time: both machines have it and freeze
 * their own, so that no picture is sent.
 */
export const PICTURE_ENTRIES = [
  z.strictObject({
    what: z.literal('picture-frozen'),
    pictureId,
    /** When it was taken, by the patient's clock of the round trips, milliseconds. */
    capturedMs: z.number().min(0).max(1e13),
    widthPx: z.int().min(1).max(10_000),
    heightPx: z.int().min(1).max(10_000),
    joints: jointsSchema,
  }),
  z.strictObject({
    what: z.literal('picture-drawn'),
    pictureId,
    shape: sharedShapeSchema,
    /** What it shows, for whoever does not see it: "Arrow to the elbow". */
    words: lineSchema(80),
  }),
  z.strictObject({ what: z.literal('picture-cleared'), pictureId }),
  z.strictObject({ what: z.literal('picture-noted'), pictureId, words: lineSchema(400) }),
  z.strictObject({ what: z.literal('picture-let-go'), pictureId }),
  z.strictObject({ what: z.literal('joint-watched'), joint: z.enum(WATCHED_JOINTS).nullable() }),
] as const;
