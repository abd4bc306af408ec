import { z } from 'zod';
import { FLAG_KINDS } from '../exercises/judgement.ts';

/** The cues that can be given. Names stay for ever, because records hold them; their words stand in feedback/cue-table.ts. */
export const CUE_NAMES = [
  'hold-done',
  'set-done',
  'stopped',
  'ease-off',
  'count-in',
  'go',
  'repetition',
  'time-left',
  'bend-more',
  'bend-less',
  'hands-in-place',
  'shoulder-led',
  'upper-arm-still',
  'elbow-by-side',
  'body-still',
  'hips-up',
  'lower-slowly',
  'palm-up',
  'turn-palm',
  'bend-fully',
  'in-range',
  'breathe',
  'paused',
  'resumed',
  'rest',
  'rest-over',
  'like-that',
] as const;
export type CueName = (typeof CUE_NAMES)[number];

/**
 * What a cue was given for: a flag of a repetition, or what was measured or happened otherwise.
 * asked-done: all that the plan asks of the set. held: time in the target range. time-left: of what is asked. rest: the rest that begins or is over.
 */
const CUE_CAUSES = [
  ...FLAG_KINDS,
  'set-begins',
  'set-stopped',
  'asked-done',
  'held',
  'time-left',
  'repetition-ended',
  'good-again',
  'rest',
] as const;

const cueCauseSchema = z.strictObject({
  what: z.enum(CUE_CAUSES),
  repetition: z
    .int()
    .min(1)
    .nullable()
    .describe('The repetition in which it was noticed, counted live from 1; null outside of repetitions.'),
  measured: z
    .strictObject({
      value: z.number(),
      unit: z.enum(['s', 'deg', 'upper-arm lengths', 'repetitions', 'share']),
    })
    .nullable()
    .describe('The figure that it was given for; null where it was no figure.'),
});
/** Why a cue was given. */
export type CueCause = z.infer<typeof cueCauseSchema>;

/** One cue as it was given in a set. */
export const givenCueSchema = z.strictObject({
  timeSeconds: z
    .number()
    .describe(
      'In the clock of the frames; before the first frame while counting in, after the last in the rest.',
    ),
  cue: z.enum(CUE_NAMES),
  words: z
    .string()
    .max(60)
    .describe('As shown; these words, or fuller ones, were spoken where the voice was on.'),
  by: z.enum(['voice', 'tone', 'caption']).describe('How it was heard: caption where there was no sound.'),
  why: cueCauseSchema,
});
export type GivenCue = z.infer<typeof givenCueSchema>;

/** A time in which the set was paused: nothing was recorded in it, and it is no time of the set. */
export const pauseSchema = z.strictObject({ startSeconds: z.number(), endSeconds: z.number() });
export type Pause = z.infer<typeof pauseSchema>;

/** What is noted in the course of a set beside its frames. */
export interface SetNotes {
  readonly cues: readonly GivenCue[];
  readonly pauses: readonly Pause[];
}

/** Before anything was noted. */
export const NO_NOTES: SetNotes = { cues: [], pauses: [] };
