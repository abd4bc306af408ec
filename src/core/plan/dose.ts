import { z } from 'zod';

const setsSchema = z.int().min(1).max(20);
const restSecondsSchema = z.int().min(0).max(900);
const daysAWeekSchema = z.int().min(1).max(7);

/** Holds: so many sets of so many seconds. */
const holdDoseSchema = z.strictObject({
  kind: z.literal('hold'),
  sets: setsSchema,
  holdSeconds: z.int().min(3).max(300),
  easierSetsBefore: z
    .int()
    .min(0)
    .max(10)
    .describe('Of the sets, those at the start that are done at lower effort.'),
  restSeconds: restSecondsSchema,
  daysAWeek: daysAWeekSchema,
});

/** Repetitions: so many sets of so many, and the time that bending and lowering are to take. */
const repetitionDoseSchema = z.strictObject({
  kind: z.literal('repetitions'),
  sets: setsSchema,
  repetitions: z.int().min(1).max(100),
  bendingSeconds: z.number().min(0.5).max(20),
  loweringSeconds: z.number().min(0.5).max(20),
  restSeconds: restSecondsSchema,
  daysAWeek: daysAWeekSchema,
});

/** What is asked of an exercise on one training day, and how often a week. */
export const doseSchema = z.discriminatedUnion('kind', [holdDoseSchema, repetitionDoseSchema]);
export type Dose = z.infer<typeof doseSchema>;
export type HoldDose = z.infer<typeof holdDoseSchema>;
export type RepetitionDose = z.infer<typeof repetitionDoseSchema>;
