import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { Reading } from '../documents/read-document.ts';
import { CHECK_WORDS } from './check-words.ts';
import type { MessageProblem } from './read-message.ts';
import type { RecordMessage } from './messages.ts';

/** Words of the phrase, a byte each: 24 bits, one guess in 16.8 million for whoever sits in between (docs/consult.md). */
const PHRASE_WORDS = 3;

/** SHA-256 fingerprints of both certificates, 64 hexadecimal digits each. */
export interface Fingerprints {
  readonly inviting: string;
  readonly joining: string;
}

/** What one side brings to the check phrase. */
export interface PhraseParts {
  readonly role: 'inviting' | 'joining';
  readonly fingerprints: Fingerprints;
  /** 32 random bytes of this side, 64 hexadecimal digits. */
  readonly nonce: string;
}

/** How far the exchange is. */
export interface PhraseState {
  readonly parts: PhraseParts;
  readonly otherCommitment: string | null;
  readonly otherNonce: string | null;
}

/** What one side does next: what it sends, and the phrase once it is known. */
export interface PhraseStep {
  readonly state: PhraseState;
  readonly send: readonly RecordMessage[];
}

type PhraseMessage = Extract<RecordMessage, { kind: 'commitment' | 'nonce' }>;

/** Begins the exchange. The inviting side commits itself to its random value first. */
export function beginPhrase(parts: PhraseParts): PhraseStep {
  const state = { parts, otherCommitment: null, otherNonce: null };
  const { role, nonce } = parts;
  return {
    state,
    send: role === 'inviting' ? [{ kind: 'commitment', commitment: commitmentTo(nonce) }] : [],
  };
}

/**
 * Takes in what the other side sent. Each value is taken once: whoever could give a second one could try until two phrases are
 * the same. Refused when it comes twice, out of turn, or is not what the other side had committed itself to.
 */
export function stepPhrase(
  { parts, otherCommitment, otherNonce }: PhraseState,
  message: PhraseMessage,
): Reading<PhraseStep, MessageProblem> {
  const own: RecordMessage = { kind: 'nonce', nonce: parts.nonce };
  if (message.kind === 'commitment') {
    if (parts.role !== 'joining' || otherCommitment !== null) return { ok: false, problem: 'out-of-order' };
    const state = { parts, otherCommitment: message.commitment, otherNonce };
    return { ok: true, value: { state, send: [own] } };
  }
  const isDue = otherNonce === null && (parts.role === 'inviting' || otherCommitment !== null);
  if (!isDue || (parts.role === 'joining' && commitmentTo(message.nonce) !== otherCommitment))
    return { ok: false, problem: 'out-of-order' };
  const state = { parts, otherCommitment, otherNonce: message.nonce };
  return { ok: true, value: { state, send: parts.role === 'inviting' ? [own] : [] } };
}

/** The words to read aloud; null before both random values are known. */
export function phraseOf({ parts, otherNonce }: PhraseState): readonly string[] | null {
  if (otherNonce === null) return null;
  const { role, nonce, fingerprints } = parts;
  const nonces = role === 'inviting' ? [nonce, otherNonce] : [otherNonce, nonce];
  const bytes = hashOf('phrase', [fingerprints.inviting, fingerprints.joining, ...nonces]);
  return [...bytes.subarray(0, PHRASE_WORDS)].map((byte) => CHECK_WORDS[byte] ?? '');
}

function commitmentTo(nonce: string): string {
  return bytesToHex(hashOf('commitment', [nonce]));
}

/** A hash for one purpose only. All parts have a fixed length, so that none can run into the next. */
function hashOf(purpose: string, parts: readonly string[]): Uint8Array {
  return sha256(utf8ToBytes(['forearmed-consult-1', purpose, ...parts].join('\n')));
}
