import fc from 'fast-check';
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import {
  beginPhrase,
  phraseOf,
  stepPhrase,
  type PhraseParts,
  type PhraseState,
  type PhraseStep,
} from '../../../src/core/consult/check-phrase.ts';
import { CHECK_WORDS } from '../../../src/core/consult/check-words.ts';
import type { RecordMessage } from '../../../src/core/consult/messages.ts';

const hex = fc
  .uint8Array({ minLength: 32, maxLength: 32 })
  .map((bytes) => Buffer.from(bytes).toString('hex'));
const FINGERPRINTS = { inviting: 'a1'.repeat(32), joining: 'b2'.repeat(32) };
const inviting = (nonce: string): PhraseParts => ({ role: 'inviting', fingerprints: FINGERPRINTS, nonce });
const joining = (nonce: string): PhraseParts => ({ role: 'joining', fingerprints: FINGERPRINTS, nonce });

/** The step that a message leads to; fails when it is refused. */
function taken(state: PhraseState, message: RecordMessage | undefined): PhraseStep {
  if (message?.kind !== 'commitment' && message?.kind !== 'nonce')
    throw new Error('no message of the phrase');
  const step = stepPhrase(state, message);
  if (!step.ok) throw new Error('refused');
  return step.value;
}

/** Lets two sides talk to the end. */
function exchange(one: PhraseParts, two: PhraseParts) {
  const begun = beginPhrase(one);
  const answered = taken(beginPhrase(two).state, begun.send[0]);
  const shown = taken(begun.state, answered.send[0]);
  const done = taken(answered.state, shown.send[0]);
  return { here: phraseOf(shown.state), there: phraseOf(done.state) };
}

describe('the list of words', () => {
  it('has a word for each byte, told apart by their first three letters and by three letters in all', () => {
    expect(new Set(CHECK_WORDS).size).toBe(256);
    expect(new Set(CHECK_WORDS.map((word) => word.slice(0, 3))).size).toBe(256);
    for (const word of CHECK_WORDS) expect(word).toMatch(/^[a-z]{4,8}$/);
    const near = CHECK_WORDS.flatMap((a, index) =>
      CHECK_WORDS.slice(index + 1).flatMap((b) => (lettersApart(a, b) < 3 ? [`${a} ${b}`] : [])),
    );
    expect(near).toEqual([]);
  });
});

describe('the check phrase', () => {
  it('is the same on both sides', () => {
    fc.assert(
      fc.property(hex, hex, (a, b) => {
        const { here, there } = exchange(inviting(a), joining(b));
        expect(here).toHaveLength(3);
        expect(there).toEqual(here);
      }),
    );
  });

  it('is the beginning of the hash that docs/consult.md describes, by another implementation of SHA-256', () => {
    const [a, b] = ['11'.repeat(32), '22'.repeat(32)];
    const said = ['forearmed-consult-1', 'phrase', FINGERPRINTS.inviting, FINGERPRINTS.joining, a, b];
    const bytes = createHash('sha256').update(said.join('\n')).digest().subarray(0, 3);
    expect(exchange(inviting(a), joining(b)).here).toEqual([...bytes].map((byte) => CHECK_WORDS[byte]));
  });

  it('differs with somebody in between, who has a certificate of his own on each link', () => {
    fc.assert(
      fc.property(hex, hex, hex, hex, (a, b, evilA, evilB) => {
        const toTherapist = { ...FINGERPRINTS, joining: 'e1'.repeat(32) };
        const toPatient = { ...FINGERPRINTS, inviting: 'e2'.repeat(32) };
        const therapist = exchange(
          { ...inviting(a), fingerprints: toTherapist },
          { ...joining(evilA), fingerprints: toTherapist },
        );
        const patient = exchange(
          { ...inviting(evilB), fingerprints: toPatient },
          { ...joining(b), fingerprints: toPatient },
        );
        // The chance that any of the hundred runs is a false alarm of this test is 6 in a million.
        expect(therapist.here).not.toEqual(patient.there);
      }),
    );
  });

  it('cannot be steered: a value that was not committed to, or a second one, is refused', () => {
    const [a, b] = ['11'.repeat(32), '22'.repeat(32)];
    const begun = beginPhrase(inviting(a));
    const answered = taken(beginPhrase(joining(b)).state, begun.send[0]);
    const other = { kind: 'nonce', nonce: '33'.repeat(32) } as const;
    expect(stepPhrase(answered.state, other)).toEqual({ ok: false, problem: 'out-of-order' });
    const shown = taken(begun.state, answered.send[0]);
    expect(stepPhrase(shown.state, other)).toEqual({ ok: false, problem: 'out-of-order' });
    const again = { kind: 'commitment', commitment: 'cc'.repeat(32) } as const;
    expect(stepPhrase(answered.state, again)).toEqual({ ok: false, problem: 'out-of-order' });
    // Before the commitment the joining side shows nothing, and takes no value.
    expect(beginPhrase(joining(b)).send).toEqual([]);
    expect(stepPhrase(beginPhrase(joining(b)).state, other)).toEqual({ ok: false, problem: 'out-of-order' });
  });
});

/** Letters to be changed, put in or left out (Levenshtein 1966). */
function lettersApart(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (const [i, letter] of [...a].entries()) {
    const next = [i + 1];
    for (const [j, other] of [...b].entries())
      next.push(
        Math.min((row[j + 1] ?? 0) + 1, (next[j] ?? 0) + 1, (row[j] ?? 0) + (letter === other ? 0 : 1)),
      );
    row = next;
  }
  return row.at(-1) ?? 0;
}
