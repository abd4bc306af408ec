import { z } from 'zod';

/** What the session offers when pain passes the ceiling; never to go on as if nothing were. */
export const PAIN_OFFERS = ['end-set', 'shorten', 'step-down'] as const;

/**
 * How much pain is allowed. Without the therapist's own figures the ceiling is no rise above the rating before the
 * session.
 */
export const painRulesSchema = z.strictObject({
  riseAllowed: z
    .int()
    .min(0)
    .max(5)
    .describe('Points that pain may rise in a session above the rating before it.'),
  mostAllowed: z
    .int()
    .min(0)
    .max(10)
    .nullable()
    .describe('Pain that may not be passed whatever it was before; null: no such limit.'),
  nextMorningRiseAllowed: z
    .int()
    .min(0)
    .max(5)
    .describe('Points the next morning above the rating before the session.'),
  offers: z
    .array(z.enum(PAIN_OFFERS))
    .min(1)
    .max(3)
    .describe('What is offered when pain passes the ceiling, in order.'),
});
export type PainRules = z.infer<typeof painRulesSchema>;
