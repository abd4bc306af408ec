import { z } from 'zod';

const interval = z.tuple([z.number().min(0), z.number().min(0)]);
const metres = z.tuple([z.number(), z.number(), z.number()]);

/**
 * What stands in a clip's NAME.truth.json. Times are seconds of media time. This schema is the one definition of the
 * file; per-frame truth stands in NAME.truth.csv.
 */
export const clipTruthSchema = z.object({
  clip: z.string().min(1),
  shows: z.string().min(1),
  generated: z.literal(true),
  seed: z.number().int(),
  exercise: z.enum(['hold', 'body-curl', 'band-curl', 'free-curl']),
  /** The treated person's treated side. */
  side: z.enum(['left', 'right']),
  statureCm: z.number().positive(),
  bodyMassKg: z.number().positive(),
  /** 0 square to the treated person's side view, positive when the camera stands further to the front. */
  cameraYawDeg: z.number(),
  /** Positive when the camera looks down. */
  cameraPitchDeg: z.number(),
  cameraRollDeg: z.number(),
  cameraDistanceM: z.number().positive(),
  verticalFieldOfViewDeg: z.number().positive(),
  widthPx: z.number().int().positive(),
  heightPx: z.number().int().positive(),
  fps: z.number().positive(),
  frameCount: z.number().int().positive(),
  durationS: z.number().positive(),
  /** From the onset of bending to the end of lowering; `lowerS` from the onset of the lowering to its end. */
  repetitions: z.array(
    z.object({
      startS: z.number().min(0),
      endS: z.number().min(0),
      partial: z.boolean(),
      shoulderDominant: z.boolean(),
      lowerS: z.number().positive(),
      /** Shoulder extensors' share of the work of lifting; only where it was worked out. */
      shoulderWorkShare: z.number().min(0).max(1).optional(),
    }),
  ),
  /** True elbow flexion from 80 to 100 deg and slower than 20 deg/s; holds only, empty for other exercises. */
  holdsInRangeS: z.array(interval),
  segmentLengthsM: z.object({
    upperArm: z.number().positive(),
    forearm: z.number().positive(),
    trunk: z.number().positive(),
    thigh: z.number().positive(),
    shank: z.number().positive(),
  }),
  barCentreM: metres.nullable(),
  bandAnchorM: metres.nullable(),
  mirror: z.boolean(),
  people: z.array(
    z.object({
      treated: z.boolean(),
      statureCm: z.number().positive(),
      bodyMassKg: z.number().positive(),
      /** When any of the main joints is inside the picture. */
      inPictureS: z.array(interval),
    }),
  ),
});

export type ClipTruth = z.infer<typeof clipTruthSchema>;
