import { z } from 'zod';

/**
 * What an exercise is done with, as far as statics needs it. Lengths in metres, masses in kilograms, forces in newtons.
 * The ranges keep out what cannot be meant; they say nothing about what is safe.
 */

/** Where supports let a bar out: hooks that are open above, hooks that are open in front, or rings. */
export const SUPPORT_SHAPES = ['open-above', 'open-in-front', 'closed'] as const;

/** Supports nearer to each other than this carry no bar, metres. */
const LEAST_SPAN_M = 0.1;

/** A straight uniform bar on two supports. Places are counted along the bar from its left end. */
export const barSchema = z
  .strictObject({
    kind: z.literal('bar'),
    massKg: z.number().min(0.5).max(400).describe('Bar with everything that hangs on it, spread evenly.'),
    lengthM: z.number().min(0.3).max(4),
    supportsM: z
      .tuple([z.number().min(0).max(4), z.number().min(0).max(4)])
      .describe('Where the bar rests, left and right; places from the left end.'),
    heldDown: z
      .tuple([z.boolean(), z.boolean()])
      .describe('Whether the bar is kept from rising at the left and at the right support.'),
    gripsM: z
      .array(z.number().min(0).max(4))
      .min(1)
      .max(2)
      .describe('Where the hands pull: one hand or two, places from the left end.'),
    supportShape: z
      .enum(SUPPORT_SHAPES)
      .describe('Where the supports let the bar out: hooks open above, hooks open in front, or rings.'),
  })
  .superRefine(({ lengthM, supportsM: [left, right], gripsM }, context) => {
    const refuse = (path: string, message: string): void =>
      context.addIssue({ code: 'custom', path: [path], message });
    if (right - left < LEAST_SPAN_M)
      refuse('supportsM', 'The right support must be at least 10 cm to the right of the left one.');
    if (right > lengthM) refuse('supportsM', 'A support lies beyond the end of the bar.');
    if (gripsM.some((placeM) => placeM > lengthM)) refuse('gripsM', 'A grip lies beyond the end of the bar.');
  });
export type Bar = z.infer<typeof barSchema>;

/** The body hangs back from a fixed bar or handles, on its heels. */
export const bodyCurlSetUpSchema = z.strictObject({
  kind: z.literal('body-curl-set-up'),
  barHeightM: z.number().min(0.3).max(2.5).describe('Of the hands above the feet.'),
  feetForwardM: z.number().min(-1).max(2.5).describe('Of the feet, horizontally ahead of the hands.'),
  hands: z.union([z.literal(1), z.literal(2)]),
  supportShape: z
    .enum(SUPPORT_SHAPES)
    .optional()
    .describe('Where the supports of its bar are open; absent: not said, or no bar that could leave them.'),
});
export type BodyCurlSetUp = z.infer<typeof bodyCurlSetUpSchema>;

/** One reading of a scale that the band pulled: length from end to end, and force. */
const bandReadingSchema = z.strictObject({
  lengthM: z.number().min(0.02).max(10),
  forceN: z.number().min(0).max(1000),
});
export type BandReading = z.infer<typeof bandReadingSchema>;

/** An elastic band by the user's own readings, and how it runs. Never by colour or name. */
export const bandSchema = z.strictObject({
  kind: z.literal('band'),
  restLengthM: z.number().min(0.02).max(5).describe('Between its two ends, lying loose and straight.'),
  readings: z.array(bandReadingSchema).min(2).max(20),
  anchorM: z
    .strictObject({
      forward: z.number().min(-4).max(4),
      outward: z
        .number()
        .min(-4)
        .max(4)
        .describe("Towards the treated arm's own side; negative across the body."),
      up: z.number().min(-3).max(4),
    })
    .describe('The anchor as seen from the elbow of the treated arm, standing in place.'),
  leavesHand: z
    .enum(['thumb-side', 'little-finger-side', 'middle'])
    .describe('Where on the hand the band leaves it.'),
  fromForearmAxisM: z
    .number()
    .min(0)
    .max(0.25)
    .describe("Of that place from the forearm's long axis; with a handle or stick it is larger."),
});
export type Band = z.infer<typeof bandSchema>;

/** A free weight in one hand. */
export const dumbbellSchema = z.strictObject({
  kind: z.literal('dumbbell'),
  massKg: z.number().min(0).max(150),
});
export type Dumbbell = z.infer<typeof dumbbellSchema>;

/** Anything that an exercise is done with. */
export const equipmentSchema = z.discriminatedUnion('kind', [
  barSchema,
  bodyCurlSetUpSchema,
  bandSchema,
  dumbbellSchema,
]);
export type Equipment = z.infer<typeof equipmentSchema>;
