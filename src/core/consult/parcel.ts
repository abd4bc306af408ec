import { z } from 'zod';
import { parseGuarded } from '../documents/guarded-text.ts';
import type { Reading } from '../documents/read-document.ts';
import { readReviewValue } from '../review/read-review.ts';
import type { ReviewDocument } from '../review/review-document.ts';
import { readRecordValue } from '../session/migrations.ts';
import type { SessionRecord } from '../session/session-record.ts';
import { CONSULT_LIMITS } from './limits.ts';

/** What the patient's side passes on of a session: its record, and what happened in the consult as a review that nobody has signed. */
export interface Parcel {
  readonly record: SessionRecord;
  readonly review: ReviewDocument;
}

const parcelSchema = z.strictObject({ record: z.unknown(), review: z.unknown() });

/** A parcel as a text, to be packed. */
export function parcelText({ record, review }: Parcel): string {
  return JSON.stringify({ record, review });
}

/** The parcel that a text says. Both documents go through their own gates, and the one must be about the other. */
export function readParcel(text: string): Reading<Parcel, 'damaged'> {
  const damaged = { ok: false, problem: 'damaged' } as const;
  const parsed = parseGuarded(text, CONSULT_LIMITS.parcelCharacters);
  if (!parsed.ok) return damaged;
  const parcel = parcelSchema.safeParse(parsed.value);
  if (!parcel.success) return damaged;
  const record = readRecordValue(parcel.data.record);
  const review = readReviewValue(parcel.data.review);
  if (!record.ok || !review.ok || review.review.sessionId !== record.record.id) return damaged;
  // Nobody signs in a consult: what came signed would say more than it is.
  if (review.review.signOff !== null) return damaged;
  return { ok: true, value: { record: record.record, review: review.review } };
}

const numberSchema = z.int().min(1).max(CONSULT_LIMITS.entries);

/** What comes on the parcels' own channel: first what is to come, then its parts in order. */
const parcelMessageSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('parcel'),
    /** Counted by its sender: a later one takes the place of one that is on its way. */
    number: numberSchema,
    characters: z.int().min(1).max(CONSULT_LIMITS.packedCharacters),
    /** Nothing comes after it. */
    isLast: z.boolean(),
  }),
  z.strictObject({
    kind: z.literal('part'),
    number: numberSchema,
    start: z.int().min(0).max(CONSULT_LIMITS.packedCharacters),
    text: z
      .string()
      .min(1)
      .max(CONSULT_LIMITS.partCharacters)
      .regex(/^[A-Za-z0-9+/=]+$/),
  }),
]);
export type ParcelMessage = z.infer<typeof parcelMessageSchema>;

/** A message of the parcels' channel as it came, or that it is none. */
export function readParcelMessage(text: string): Reading<ParcelMessage, 'not-read'> {
  const parsed = parseGuarded(text, CONSULT_LIMITS.messageCharacters);
  const read = parsed.ok ? parcelMessageSchema.safeParse(parsed.value) : null;
  return read?.success === true ? { ok: true, value: read.data } : { ok: false, problem: 'not-read' };
}

/** The messages by which a packed text goes, in order. */
export function parcelMessages(packed: string, number: number, isLast: boolean): ParcelMessage[] {
  const messages: ParcelMessage[] = [{ kind: 'parcel', number, characters: packed.length, isLast }];
  for (let start = 0; start < packed.length; start += CONSULT_LIMITS.partCharacters) {
    const text = packed.slice(start, start + CONSULT_LIMITS.partCharacters);
    messages.push({ kind: 'part', number, start, text });
  }
  return messages;
}

/** A parcel on its way, as far as it has come. */
export interface ComingParcel {
  readonly number: number;
  readonly characters: number;
  readonly isLast: boolean;
  readonly parts: readonly string[];
  readonly came: number;
}

/** What is on its way after a message. A part that is not the next one is refused. */
export function takeParcelMessage(
  coming: ComingParcel | null,
  message: ParcelMessage,
): Reading<ComingParcel, 'out-of-order'> {
  if (message.kind === 'parcel') {
    const { number, characters, isLast } = message;
    return { ok: true, value: { number, characters, isLast, parts: [], came: 0 } };
  }
  const { number, start, text } = message;
  const isNext = coming !== null && coming.number === number && coming.came === start;
  if (!isNext || start + text.length > coming.characters) return { ok: false, problem: 'out-of-order' };
  const parts = [...coming.parts, text];
  return { ok: true, value: { ...coming, parts, came: start + text.length } };
}

/** The packed text when all of it has come, else null. */
export function wholeParcel({ characters, came, parts }: ComingParcel): string | null {
  return came === characters ? parts.join('') : null;
}
