import { z } from 'zod';
import { exerciseSchema, sideSchema, variantSchema } from '../exercises/exercise.ts';

/** Pictures of a repetition that is shown again at most: with more, a message would be too long. */
export const MOST_SHOWN_FRAMES = 120;

/** Pixels of the picture, x and y, without digits that nobody sees; null for a joint that was not measured. */
const placeSchema = z
  .tuple([z.int().min(-100_000).max(100_000), z.int().min(-100_000).max(100_000)])
  .nullable();

/** One picture of a repetition: seconds since its first one, elbow flexion, and the four joints. */
const shownFrameSchema = z.strictObject({
  at: z.number().min(0).max(36_000),
  flexionDeg: z.number().min(-360).max(360).nullable(),
  shoulder: placeSchema,
  elbow: placeSchema,
  wrist: placeSchema,
  hip: placeSchema,
});
export type ShownFrame = z.infer<typeof shownFrameSchema>;

/** Which hold or repetition of the consult is meant, both counted from 1. */
const partOf = { setNumber: z.int().min(1).max(1000), part: z.int().min(1).max(10_000) };

/**
 * Entries of the course about what is shown to both between sets. A repetition is shown by its figure: no picture of it is kept, and the
 * figure comes with the entry, so that both see the same also where only one machine keeps the record.
 */
export const SHOWING_ENTRIES = [
  z.strictObject({
    what: z.literal('demonstration-shown'),
    exercise: exerciseSchema,
    side: sideSchema,
    variant: variantSchema.nullable(),
  }),
  z.strictObject({ what: z.literal('repetition-asked'), ...partOf }),
  z.strictObject({
    what: z.literal('repetition-shown'),
    ...partOf,
    widthPx: z.int().min(1).max(10_000),
    heightPx: z.int().min(1).max(10_000),
    /** None where it is not there any more. */
    frames: z.array(shownFrameSchema).max(MOST_SHOWN_FRAMES),
  }),
  z.strictObject({ what: z.literal('showing-ended') }),
] as const;
