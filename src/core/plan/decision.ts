import { z } from 'zod';
import { planKeySchema } from './plan.ts';

const momentSchema = z.iso.datetime({ offset: true });

/** The directions a plan can go. */
const DIRECTIONS = ['advance', 'stay', 'step-back', 'seek-care'] as const;
const directionSchema = z.enum(DIRECTIONS);
export type Direction = z.infer<typeof directionSchema>;

/** What the tool proposes, with a sentence for each reason. */
export const proposalSchema = z.strictObject({
  direction: directionSchema,
  toStageKey: planKeySchema,
  reasons: z
    .array(
      z.strictObject({
        sentence: z.string().min(1).max(600),
        source: z
          .string()
          .min(1)
          .max(300)
          .describe('Where the threshold comes from, or "set by the therapist".'),
        dayIds: z.array(z.uuid()).max(200).describe('The training days it rests on.'),
        reader: z
          .enum(['everyone', 'therapist'])
          .describe('Who is shown it: what could urge a patient on is for the therapist only.'),
      }),
    )
    .max(20),
});
export type Proposal = z.infer<typeof proposalSchema>;
export type ProposalReason = Proposal['reasons'][number];

/** What the therapist decided, beside what was proposed. */
export const decisionSchema = z.strictObject({
  id: z.uuid(),
  planId: z.uuid(),
  planVersion: z.int().min(1).max(9999).describe('The version on which it was decided.'),
  newPlanVersion: z
    .int()
    .min(1)
    .max(9999)
    .nullable()
    .describe('The version that followed from it; null when nothing changed.'),
  decidedAt: momentSchema,
  proposal: proposalSchema.nullable(),
  direction: z.enum(['advance', 'stay', 'step-back']),
  reason: z.string().trim().min(1).max(400),
});
export type Decision = z.infer<typeof decisionSchema>;
