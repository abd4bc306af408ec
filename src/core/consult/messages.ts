import { z } from 'zod';
import { lineSchema } from '../documents/line.ts';
import { PHASES } from '../exercises/judgement.ts';
import { exerciseSchema, sideSchema, variantSchema } from '../exercises/exercise.ts';
import { thresholdsSchema } from '../exercises/thresholds.ts';
import { NOT_MEASURED_REASONS } from '../kinematics/measured.ts';
import { CUE_NAMES } from '../session/cue-log.ts';
import { jointsSchema } from './joints.ts';
import { CONSULT_LIMITS } from './limits.ts';
import { LEFT_OUT } from './line-quality.ts';
import { PICTURE_ENTRIES } from './picture-entries.ts';
import { SHOWING_ENTRIES } from './showing-entries.ts';

/** The version of the messages. Two sides with different ones do not talk: each says so. */
export const CONSULT_VERSION = 1;

/** Who somebody is in a consult. */
export const consultSideSchema = z.enum(['therapist', 'patient']);
export type ConsultSide = z.infer<typeof consultSideSchema>;

/**
 * What a side can do beside what every version can: "voice" where its machine speaks cues. Unknown ones are let pass, because a newer
 * version may name more.
 */
const capabilitySchema = z.string().regex(/^[a-z-]{1,40}$/);

const count = z.int().min(0).max(CONSULT_LIMITS.entries);
const clockMs = z.number().min(0).max(1e13);
const hashSchema = z.string().regex(/^[0-9a-f]{64}$/);
const secondsSchema = z.number().min(-1e6).max(1e9);

const helloSchema = z.strictObject({
  kind: z.literal('hello'),
  version: z.int().min(1).max(1000),
  side: consultSideSchema,
  consultId: z.string().regex(/^[A-Za-z0-9_-]{1,40}$/),
  /** Of the page that sends it: another one than before has lost what the one before knew. */
  pageId: z.string().regex(/^[A-Za-z0-9_-]{1,40}$/),
  capabilities: z.array(capabilitySchema).max(30),
  /** Entries of the receiver's that the sender has: a link that was begun again goes on from there. */
  received: count,
});

/** The inviting side's commitment to its random value, and the values themselves. */
const commitmentSchema = z.strictObject({ kind: z.literal('commitment'), commitment: hashSchema });
const nonceSchema = z.strictObject({ kind: z.literal('nonce'), nonce: hashSchema });
const phraseSchema = z.strictObject({ kind: z.literal('phrase'), isSame: z.boolean() });

const clockAskSchema = z.strictObject({ kind: z.literal('clock-ask'), askedMs: clockMs });
const clockAnswerSchema = z.strictObject({
  kind: z.literal('clock-answer'),
  askedMs: clockMs,
  receivedMs: clockMs,
  answeredMs: clockMs,
});

const mediaSchema = z.strictObject({
  kind: z.literal('media'),
  type: z.enum(['offer', 'answer']),
  sdp: z.string().max(CONSULT_LIMITS.mediaCharacters),
});

/** Where both come together again when the line is lost: only the two of a checked link know it. */
const returnWaySchema = z.strictObject({
  kind: z.literal('return-way'),
  place: z.string().regex(/^[0-9a-f]{32}$/),
  secret: hashSchema,
});

/** What the sender shows and lets hear from now on. */
const showingSchema = z.strictObject({
  kind: z.literal('showing'),
  picture: z.boolean(),
  sound: z.boolean(),
  /** What is left out or made smaller because the line is poor. */
  left: z.enum(LEFT_OUT),
});

const receivedSchema = z.strictObject({ kind: z.literal('received'), received: count });
/** What became of a record that was passed on. */
const parcelKeptSchema = z.strictObject({
  kind: z.literal('parcel-kept'),
  number: z.int().min(1).max(CONSULT_LIMITS.entries),
  isKept: z.boolean(),
});
const goodbyeSchema = z.strictObject({ kind: z.literal('goodbye') });

/** What the patient agrees to have sent. */
const consentSchema = z.strictObject({
  picture: z.boolean(),
  measuring: z.boolean(),
  /** The record of the session, which is kept on the therapist's machine as well. */
  record: z.boolean(),
});
export type Consent = z.infer<typeof consentSchema>;

/** The exercise that the therapist asks for. */
const prescriptionSchema = z.strictObject({
  exercise: exerciseSchema,
  side: sideSchema,
  variant: variantSchema.nullable(),
  /** Every threshold that the judgement is to use. */
  thresholds: thresholdsSchema.strict(),
  /** How much of it, in words: "5 sets of 45 s"; null where that is said aloud. */
  dose: lineSchema(160).nullable(),
});
export type Prescription = z.infer<typeof prescriptionSchema>;

const setFigures = {
  inRangeSeconds: z.number().min(0).max(36_000),
  repetitions: z.int().min(0).max(10_000),
  partialRepetitions: z.int().min(0).max(10_000),
  loweringSeconds: z.number().min(0).max(36_000).nullable(),
};

/** Words of a cue: at most so many letters, because they are read from three metres. */
export const CUE_LETTERS = 40;

const entryContentSchema = z.discriminatedUnion('what', [
  z.strictObject({ what: z.literal('consent'), consent: consentSchema }),
  z.strictObject({ what: z.literal('prescription'), prescription: prescriptionSchema }),
  z.strictObject({
    what: z.literal('set-asked'),
    action: z.enum(['start', 'stop']),
    name: lineSchema(60).nullable(),
  }),
  z.strictObject({ what: z.literal('set-begun'), setNumber: z.int().min(1).max(1000) }),
  z.strictObject({
    what: z.literal('set-ended'),
    setNumber: z.int().min(1).max(1000),
    ...setFigures,
    /** Holds or repetitions that were found in it, partial ones too: each can be shown again. */
    parts: z.int().min(0).max(10_000),
  }),
  z.strictObject({
    what: z.literal('cue'),
    cueId: z.int().min(1).max(CONSULT_LIMITS.entries),
    /** One of the usual cues, or null for the therapist's own words. */
    cue: z.enum(CUE_NAMES).nullable(),
    words: lineSchema(CUE_LETTERS),
  }),
  z.strictObject({
    what: z.literal('cue-heard'),
    cueId: z.int().min(1).max(CONSULT_LIMITS.entries),
    by: z.enum(['voice', 'tone', 'caption']),
  }),
  z.strictObject({ what: z.literal('pain-asked') }),
  z.strictObject({ what: z.literal('pain-answered'), pain: z.int().min(0).max(10) }),
  z.strictObject({ what: z.literal('note'), words: lineSchema(400) }),
  /** On whose machine the therapist wishes to measure, and on whose the patient's side has let it be from now on. */
  z.strictObject({ what: z.literal('measuring-asked'), at: consultSideSchema }),
  z.strictObject({ what: z.literal('measured-at'), at: consultSideSchema }),
  ...PICTURE_ENTRIES,
  ...SHOWING_ENTRIES,
]);
export type EntryContent = z.infer<typeof entryContentSchema>;

/** Something that happened in a consult, kept by both sides alike. */
const entrySchema = z.strictObject({
  kind: z.literal('entry'),
  /** Counted from 1 by its sender, without gaps. */
  number: z.int().min(1).max(CONSULT_LIMITS.entries),
  /** Entries of the other side that its sender had. */
  seen: count,
  /** When it was made, by its sender's clock of the round trips: what comes late must not be done as if it were asked now. */
  madeMs: clockMs,
  /** Wall clock of its sender. */
  at: z.iso.datetime({ offset: true }),
  content: entryContentSchema,
});
export type EntryMessage = z.infer<typeof entrySchema>;

/** Everything that may come on the reliable channel. */
export const recordMessageSchema = z.discriminatedUnion('kind', [
  helloSchema,
  commitmentSchema,
  nonceSchema,
  phraseSchema,
  clockAskSchema,
  clockAnswerSchema,
  mediaSchema,
  showingSchema,
  returnWaySchema,
  receivedSchema,
  parcelKeptSchema,
  goodbyeSchema,
  entrySchema,
]);
export type RecordMessage = z.infer<typeof recordMessageSchema>;

const degrees = z.number().min(-360).max(360);
const measuredDegSchema = z.union([
  z.strictObject({ value: degrees, low: degrees, high: degrees }),
  z.strictObject({ notMeasured: z.enum(NOT_MEASURED_REASONS) }),
]);
/** A cue as it stands on the screen and is said; by its name it is known how it sounds and what it gives way to. */
const liveCueSchema = z.strictObject({
  name: z.enum(CUE_NAMES),
  words: lineSchema(60),
  spoken: lineSchema(60),
});
export type LiveCue = z.infer<typeof liveCueSchema>;

/** What was measured in one picture, with that picture's own time. */
export const liveMessageSchema = z.strictObject({
  kind: z.literal('live'),
  number: z.int().min(1).max(1e9),
  /** The picture's own time, as in the record. */
  timeSeconds: secondsSchema,
  /** When it was measured, by the clock of the round trips. */
  measuredMs: clockMs,
  /** When the picture was taken, by the same clock; null where the browser does not tell. */
  capturedMs: clockMs.nullable(),
  widthPx: z.int().min(1).max(10_000),
  heightPx: z.int().min(1).max(10_000),
  exercise: exerciseSchema,
  elbowFlexionDeg: measuredDegSchema,
  reason: z.enum(NOT_MEASURED_REASONS).nullable(),
  phase: z.enum(PHASES),
  /** A set could begin now. */
  isReady: z.boolean(),
  isInSet: z.boolean(),
  /** The program's own cue that is shown and said at the patient's side now. */
  cue: liveCueSchema.nullable(),
  /** By the speed check, this machine measures too few pictures to judge a set. */
  isTooSlow: z.boolean(),
  joints: jointsSchema,
  ...setFigures,
});
export type LiveMessage = z.infer<typeof liveMessageSchema>;

/** What is told of a picture; number and time are its line's. */
export type MeasuredPicture = Omit<LiveMessage, 'kind' | 'number' | 'measuredMs'>;

/** A live message as it is sent. Three digits are finer than what is measured; all of them would fill a narrow line. */
export function liveText(message: LiveMessage): string {
  return JSON.stringify(message, (_name, value: unknown) =>
    typeof value === 'number' ? Math.round(value * 1000) / 1000 : value,
  );
}
