import type { z } from 'zod';
import { parseGuarded } from '../documents/guarded-text.ts';
import type { Reading } from '../documents/read-document.ts';
import { CONSULT_LIMITS } from './limits.ts';
import {
  liveMessageSchema,
  recordMessageSchema,
  type ConsultSide,
  type EntryContent,
  type LiveMessage,
  type RecordMessage,
} from './messages.ts';

/** Why a message is not taken in. */
export type MessageProblem = 'too-long' | 'not-read' | 'wrong-side' | 'too-early' | 'out-of-order';

/** How both sides write a description; the room for its escaped line ends is given beside its own. */
const MEDIA_BEGINNING = '{"kind":"media",';

/** A message of the reliable channel as it came, or why it is refused. */
export function readRecordMessage(text: string): Reading<RecordMessage, MessageProblem> {
  const { mediaCharacters, messageCharacters } = CONSULT_LIMITS;
  // Only what begins as a description is read at its length: reading a long text for names given twice takes its time.
  const isMedia = text.startsWith(MEDIA_BEGINNING);
  return readAs(recordMessageSchema, text, isMedia ? mediaCharacters + messageCharacters : messageCharacters);
}

/** A message of the live channel as it came, or why it is refused. */
export function readLiveMessage(text: string): Reading<LiveMessage, MessageProblem> {
  return readAs(liveMessageSchema, text, CONSULT_LIMITS.liveCharacters);
}

function readAs<Schema extends z.ZodType>(
  schema: Schema,
  text: string,
  mostCharacters: number,
): Reading<z.output<Schema>, MessageProblem> {
  const parsed = parseGuarded(text, mostCharacters);
  if (!parsed.ok) return { ok: false, problem: parsed.problem.kind === 'too-long' ? 'too-long' : 'not-read' };
  const checked = schema.safeParse(parsed.value);
  return checked.success ? { ok: true, value: checked.data } : { ok: false, problem: 'not-read' };
}

/** Which side may say what in the course; the measuring side is the patient's, and the therapist's once the patient has agreed to that. */
const SAID_BY: Readonly<Record<EntryContent['what'], ConsultSide | 'measuring'>> = {
  consent: 'patient',
  prescription: 'therapist',
  'set-asked': 'therapist',
  'set-begun': 'measuring',
  'set-ended': 'measuring',
  cue: 'therapist',
  'cue-heard': 'patient',
  'pain-asked': 'therapist',
  'pain-answered': 'patient',
  note: 'therapist',
  'measuring-asked': 'therapist',
  'measured-at': 'patient',
  'picture-frozen': 'therapist',
  'picture-drawn': 'therapist',
  'picture-cleared': 'therapist',
  'picture-noted': 'therapist',
  'picture-let-go': 'therapist',
  'joint-watched': 'therapist',
  'demonstration-shown': 'therapist',
  'repetition-asked': 'therapist',
  'repetition-shown': 'measuring',
  'showing-ended': 'therapist',
};

/** What may come before both sides have said that the check phrase is the same. */
const BEFORE_JOINED: readonly RecordMessage['kind'][] = [
  'hello',
  'commitment',
  'nonce',
  'phrase',
  'clock-ask',
  'clock-answer',
  'goodbye',
];

/** Who says something, and when. */
interface Said {
  readonly from: ConsultSide;
  /** Both have said that the phrase is the same. */
  readonly isJoined: boolean;
  /** The patient has let the therapist's machine measure, now or earlier. */
  readonly hasMoved: boolean;
}

/** Whether a side may say this now; the problem where it may not. */
export function messageProblem(message: RecordMessage, said: Said): MessageProblem | null {
  const { from, isJoined, hasMoved } = said;
  if (!isJoined && !BEFORE_JOINED.includes(message.kind)) return 'too-early';
  const isHosts = message.kind === 'commitment' || message.kind === 'return-way';
  if (isHosts && from !== 'therapist') return 'wrong-side';
  if (message.kind === 'entry' && !mayAdd(message.content, said)) return 'wrong-side';
  // Whoever measures passes the record on, and the other side keeps it.
  if (message.kind === 'parcel-kept' && from !== 'therapist' && !hasMoved) return 'wrong-side';
  if (message.kind === 'hello' && message.side !== from) return 'wrong-side';
  return null;
}

function mayAdd(content: EntryContent, { from, hasMoved }: Said): boolean {
  // Whoever is measured may end the set, wherever it is measured.
  if (content.what === 'set-asked' && content.action === 'stop' && from === 'patient') return hasMoved;
  const by = SAID_BY[content.what];
  return by === 'measuring' ? from === 'patient' || hasMoved : by === from;
}
