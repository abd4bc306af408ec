import { z } from 'zod';

/** When the tool proposes to advance or to step back. Set by the therapist: no trial gives figures for this tendon. */
export const progressRulesSchema = z.strictObject({
  goodDaysToAdvance: z.int().min(1).max(30).describe('Training days in a row that fulfil all the rest.'),
  doseShareToCount: z
    .number()
    .min(0.3)
    .max(1)
    .describe('Share of the asked dose that makes a day count as done.'),
  shoulderDominantShareAllowed: z
    .number()
    .min(0)
    .max(1)
    .describe('Of the judged repetitions of a body-moving curl.'),
  badDaysToStepBack: z
    .int()
    .min(1)
    .max(10)
    .describe('Training days in a row above the pain ceiling, in session or next morning.'),
  daysOffBeforeStepBack: z
    .int()
    .min(3)
    .max(60)
    .describe('Days without training after which the stage before is proposed.'),
});
export type ProgressRules = z.infer<typeof progressRulesSchema>;
