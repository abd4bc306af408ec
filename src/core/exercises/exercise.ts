import { z } from 'zod';

/** The exercises that are measured. */
export const EXERCISES = ['hold', 'body-curl', 'band-curl', 'free-curl'] as const;

/** One of the measured exercises; names as on the command line and in the record. */
export const exerciseSchema = z.enum(EXERCISES);
export type Exercise = z.infer<typeof exerciseSchema>;

/** How the forearm is asked to move in a band curl: palm up throughout, or turning up while bending and back. */
export const variantSchema = z.enum(['supinated', 'turning']);
export type Variant = z.infer<typeof variantSchema>;

/** The treated side: the patient's own left or right. */
export const sideSchema = z.enum(['left', 'right']);

/** What is being done, by whom, as far as measuring needs it. */
export const exerciseSettingsSchema = z.object({
  exercise: exerciseSchema,
  side: sideSchema,
  variant: variantSchema.nullable(),
  /** The person's height in centimetres, or null when not given. */
  statureCm: z.number().min(80).max(250).nullable(),
});
export type ExerciseSettings = z.infer<typeof exerciseSettingsSchema>;
