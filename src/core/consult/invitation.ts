import { strToU8 } from 'fflate';
import { z } from 'zod';
import { packText, unpackText } from '../documents/packed-text.ts';
import { parseGuarded } from '../documents/guarded-text.ts';
import type { Reading } from '../documents/read-document.ts';
import { connectionFactsSchema, type ConnectionFacts } from './connection-facts.ts';
import { CONSULT_LIMITS } from './limits.ts';

/** Why a text does not lead into a consult. */
export type InvitationProblem =
  | 'not-one'
  | 'newer'
  | 'damaged'
  | 'ended'
  | 'used'
  | 'other-invitation'
  | 'answer-not-invitation'
  | 'invitation-not-answer';

const MINUTE_MS = 60_000;

const idSchema = z.string().regex(/^[A-Za-z0-9_-]{8,40}$/);

const invitationSchema = z.strictObject({
  id: idSchema,
  /** The same for each invitation into one consult: a link that broke for good is begun again with a new one. */
  consult: idSchema,
  /** Minutes since 1970, UTC. */
  endsMinutes: z.int().min(0).max(1e9),
  facts: connectionFactsSchema,
});
export type Invitation = z.infer<typeof invitationSchema>;

const answerSchema = z.strictObject({ id: idSchema, facts: connectionFactsSchema });
export type InvitationAnswer = z.infer<typeof answerSchema>;

/** Texts are packed against these words, which never change; other words need another format of the texts. */
const WORDS = strToU8(
  '{"id":"","consult":"","endsMinutes":29,"facts":{"setup":"passive","setup":"active","setup":"actpass","user":"","password":"","fingerprint":"","mid":"0","candidates":["1 1 tcp 1518280447 192.168.10. 9 typ host tcptype active","1 1 udp 2113937151 192.168.1.10 5.local typ host","1 1 udp 1677729535 typ srflx raddr 0.0.0.0 rport 0"]}}',
);
const BEGINNINGS = { invitation: 'consult=1.', answer: 'answer=1.' } as const;
const ANY = /^#?(consult|answer)=(\d{1,4})\.([A-Za-z0-9_-]*)$/;

/** The invitation as the fragment of a link, without "#". */
export function invitationText(invitation: Invitation): string {
  return BEGINNINGS.invitation + packText(JSON.stringify(invitationSchema.parse(invitation)), WORDS);
}

/** The answer to an invitation, to be passed back by hand. */
export function answerText(answer: InvitationAnswer): string {
  return BEGINNINGS.answer + packText(JSON.stringify(answerSchema.parse(answer)), WORDS);
}

/** The invitation in a text: a fragment, or a whole link that has one. nowMs: wall clock. */
export function readInvitation(text: string, nowMs: number): Reading<Invitation, InvitationProblem> {
  const read = readText(text, 'invitation', invitationSchema);
  if (!read.ok) return read;
  const restMs = read.value.endsMinutes * MINUTE_MS - nowMs;
  // One that ends later than any can, even by a clock that is a day wrong, was not made by this program.
  const { invitationMinutes, clockMinutes } = CONSULT_LIMITS;
  if (restMs > (invitationMinutes + clockMinutes) * MINUTE_MS) return { ok: false, problem: 'damaged' };
  return restMs < 0 ? { ok: false, problem: 'ended' } : read;
}

/** An invitation as its own side sees it. */
export interface InvitationState {
  readonly id: string;
  readonly consult: string;
  readonly endsMs: number;
  readonly isUsed: boolean;
}

/** A new invitation, which ends an hour from now. nowMs: wall clock. */
export function newInvitation(ids: Pick<InvitationState, 'id' | 'consult'>, nowMs: number): InvitationState {
  return { ...ids, endsMs: nowMs + CONSULT_LIMITS.invitationMinutes * MINUTE_MS, isUsed: false };
}

/** What is sent of an invitation. */
export function sentInvitation({ id, consult, endsMs }: InvitationState, facts: ConnectionFacts): Invitation {
  return { id, consult, endsMinutes: Math.floor(endsMs / MINUTE_MS), facts };
}

/** Takes an answer, once: the facts of whoever answered, with the invitation as it is then. */
export function takeAnswer(
  state: InvitationState,
  text: string,
  nowMs: number,
): Reading<{ readonly state: InvitationState; readonly facts: ConnectionFacts }, InvitationProblem> {
  const read = readText(text, 'answer', answerSchema);
  if (!read.ok) return read;
  if (read.value.id !== state.id) return { ok: false, problem: 'other-invitation' };
  if (state.isUsed) return { ok: false, problem: 'used' };
  if (nowMs > state.endsMs) return { ok: false, problem: 'ended' };
  return { ok: true, value: { state: { ...state, isUsed: true }, facts: read.value.facts } };
}

function readText<Schema extends z.ZodType>(
  text: string,
  wanted: keyof typeof BEGINNINGS,
  schema: Schema,
): Reading<z.output<Schema>, InvitationProblem> {
  const refuse = (problem: InvitationProblem) => ({ ok: false, problem }) as const;
  if (text.length > CONSULT_LIMITS.invitationCharacters) return refuse('damaged');
  // Programs that pass words on break long ones; a link has the text behind its #.
  const bare = text.replace(/\s+/g, '');
  const [, kind, format, packed = ''] = ANY.exec(bare.slice(Math.max(0, bare.indexOf('#')))) ?? [];
  if (kind === undefined) return refuse('not-one');
  if (kind === 'answer' && wanted === 'invitation') return refuse('answer-not-invitation');
  if (kind === 'consult' && wanted === 'answer') return refuse('invitation-not-answer');
  if (format !== '1') return refuse('newer');
  const mostBytes = CONSULT_LIMITS.invitationCharacters;
  const unpacked = unpackText(packed, { dictionary: WORDS, mostBytes });
  if (!unpacked.ok) return refuse('damaged');
  const parsed = parseGuarded(unpacked.value, mostBytes);
  const checked = parsed.ok ? schema.safeParse(parsed.value) : null;
  return checked?.success ? { ok: true, value: checked.data } : refuse('damaged');
}
