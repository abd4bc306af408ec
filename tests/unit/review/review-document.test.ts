import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { MemoryReviewStore } from '../../../src/adapters/storage/memory-review-store.ts';
import { misfitSentence, reviewProblemSentence } from '../../../src/core/feedback/review-words.ts';
import {
  changedReview,
  countingReview,
  followingReview,
  SignedReview,
  signedReview,
} from '../../../src/core/review/change-review.ts';
import { correctedSession } from '../../../src/core/review/corrected-session.ts';
import { copyForPatient, isCopyOf, isFullerCopy } from '../../../src/core/review/patient-copy.ts';
import { readReview, readReviewValue } from '../../../src/core/review/read-review.ts';
import { recordDigest } from '../../../src/core/review/record-digest.ts';
import { summariseSession } from '../../../src/core/session/summary.ts';
import { AT, correction, idOf, LATER, outline, record, refTo, review } from './sample-review.ts';

const SAMPLE = new URL('../../fixtures/reviews/v1-body-curl.review.json', import.meta.url);
const sample = readFileSync(SAMPLE, 'utf8');

describe('the read gate', () => {
  it('opens the kept sample of every version and changes nothing in it', () => {
    const reading = readReview(sample);
    expect(reading.ok && reading.review).toEqual(JSON.parse(sample));
  });

  it.each([
    ['{', 'not-json', 'damaged or cut short'],
    ['{"format":"forearmed-plan"}', 'not-ours', 'not a review of a session'],
    [sample.replace('"schemaVersion": 1', '"schemaVersion": 2'), 'newer-version', 'newer version'],
    [sample.replace('"reason"', '"raeson"'), 'damaged', 'corrections.0'],
    [sample.replace('"scope"', '"id": "x", "scope"'), 'name-twice', 'says "id" twice'],
    [' '.repeat(8_000_001), 'too-long', 'too large'],
  ])('refuses %#: %s', (text, kind, words) => {
    const reading = readReview(text);
    if (reading.ok) throw new Error('It was opened.');
    expect(reading.problem.kind).toBe(kind);
    expect(reviewProblemSentence(reading.problem)).toContain(words);
  });
});

describe('the digest of what was reviewed', () => {
  it('is the same for the same record, also with fields that a newer version adds', () => {
    expect(recordDigest({ ...outline, software: { name: 'Forearmed', version: '9' } })).toBe(
      recordDigest(outline),
    );
    expect(recordDigest(outline)).toMatch(/^[0-9a-f]{64}$/);
  });

  it('is another one when anything was found otherwise', () => {
    const [set] = outline.sets;
    if (set === undefined) throw new Error('The sample has no set.');
    const repetitions = set.judgement.repetitions.map((one, index) => ({ ...one, partial: index === 1 }));
    const other = { ...outline, sets: [{ ...set, judgement: { ...set.judgement, repetitions } }] };
    expect(recordDigest(other)).not.toBe(recordDigest(outline));
    const foreign = correctedSession(other, review([correction(1, 'discard', [refTo(0)])]));
    expect(foreign.summary).toEqual(summariseSession(other.sets));
    expect(foreign.misfits.map(({ why }) => why)).toEqual(['other-record']);
    expect(misfitSentence('other-record')).toContain('other findings');
  });
});

describe('a session after its review', () => {
  it('has the summary of what stands, and the record stays as it was', () => {
    const before = JSON.stringify(record);
    const discarded = correctedSession(outline, review([correction(1, 'discard', [refTo(0)])]));
    const plain = correctedSession(outline, null);
    expect(plain.summary).toEqual(summariseSession(outline.sets));
    expect(discarded.summary.whole.repetitions).toBe(plain.summary.whole.repetitions - 1);
    expect(discarded.correctionCount).toBe(1);
    expect(JSON.stringify(record)).toBe(before);
  });

  it('tells a correction of a set that the record has not', () => {
    const strange = { ...correction(1, 'discard', [refTo(0)]), setIndex: 7 };
    expect(correctedSession(outline, review([strange])).misfits.map(({ why }) => why)).toEqual([
      'not-in-record',
    ]);
  });
});

describe('a signed review', () => {
  const signed = signedReview(review([correction(1, 'discard', [refTo(0)])]), 'An invented name', LATER);

  it('cannot be changed or signed again, only followed by a new one that names it', () => {
    expect(() => changedReview(signed, { notes: [] }, LATER)).toThrow(SignedReview);
    expect(() => signedReview(signed, 'Another name', LATER)).toThrow(SignedReview);
    const next = followingReview(signed, idOf(9001), LATER);
    expect(next).toMatchObject({ follows: signed.id, signOff: null, corrections: signed.corrections });
    expect(() => followingReview(next, idOf(9002), LATER)).toThrow('not signed');
    expect(countingReview([signed, next])).toBe(next);
    expect(countingReview([next, signed])).toBe(next);
    expect(countingReview([])).toBeNull();
  });

  it('is not written over in the store; an unsigned one is', async () => {
    const store = new MemoryReviewStore();
    const draft = review();
    const note = { id: idOf(1), place: null, text: 'A note.', at: AT };
    expect((await store.keepReview(draft)).ok).toBe(true);
    expect((await store.keepReview({ ...draft, notes: [note] })).ok).toBe(true);
    expect((await store.keepReview(signedReview(draft, 'An invented name', LATER))).ok).toBe(true);
    const refused = await store.keepReview({ ...draft, notes: [note] });
    expect(refused.ok ? null : refused.problem).toBe('already-kept');
    const kept = await store.reviewsOf(draft.sessionId);
    expect(kept.ok && kept.value.items.map(({ signOff }) => signOff?.name)).toEqual(['An invented name']);
  });

  it('stays whole when the copy for the patient comes back, and takes its place', async () => {
    const store = new MemoryReviewStore();
    const copy = copyForPatient(signed);
    await store.keepReview(copy);
    await store.keepReview(signed);
    await store.keepReview(copy);
    const kept = await store.reviewsOf(signed.sessionId);
    expect(kept.ok && kept.value.items).toEqual([signed]);
  });

  it('can be taken out with its session and put back', async () => {
    const store = new MemoryReviewStore();
    await store.keepReview(signed);
    const taken = await store.takeOutReviews(signed.sessionId);
    expect((await store.listReviews()).ok).toBe(true);
    if (!taken.ok) throw new Error(taken.detail);
    expect(taken.value.reviews).toHaveLength(1);
    await store.putBackReviews(taken.value);
    const kept = await store.listReviews();
    expect(kept.ok && kept.value.items).toEqual([signed]);
  });
});

describe('the copy for the patient', () => {
  it('has the answer with the drawings that it shows, and nothing that was noted for the file', () => {
    const reading = readReview(sample);
    if (!reading.ok) throw new Error('The sample is not read.');
    const copy = copyForPatient(reading.review);
    expect(copy.notes).toEqual([]);
    expect(copy.handAngles).toEqual([]);
    expect(copy.answer).toEqual(reading.review.answer);
    expect(reading.review.drawings.length).toBeGreaterThan(copy.drawings.length);
    expect(copy.drawings).toHaveLength(1);
  });

  it('has no reason of a correction unless that is chosen, and no correction that was withdrawn', () => {
    const held = correction(1, 'discard', [refTo(0)]);
    const withdrawn = { ...correction(2, 'discard', [refTo(1)]), withdrawnAt: LATER };
    const whole = review([held, withdrawn]);
    const copy = copyForPatient(whole);
    expect(JSON.stringify(copy)).not.toContain(held.reason);
    expect(copy.corrections.map(({ id }) => id)).toEqual([held.id]);
    expect(copyForPatient(whole, true).corrections).toEqual([held]);
    expect(readReviewValue(copy).ok).toBe(true);
    expect(correctedSession(outline, copy).summary).toEqual(correctedSession(outline, whole).summary);
  });

  it('is known as a copy of its review, and with reasons as the fuller of two', () => {
    const whole = review([correction(1, 'discard', [refTo(0)])]);
    const [bare, full] = [copyForPatient(whole), copyForPatient(whole, true)];
    const other = review([correction(1, 'discard', [refTo(1)])]);
    expect([bare, full].map((copy) => isCopyOf(copy, whole))).toEqual([true, true]);
    expect(isCopyOf(bare, other)).toBe(false);
    expect([isFullerCopy(bare, full), isFullerCopy(full, bare), isFullerCopy(bare, bare)]).toEqual([
      true,
      false,
      false,
    ]);
  });

  it('gives way in the store to one with the reasons, and not back', async () => {
    const store = new MemoryReviewStore();
    const whole = signedReview(review([correction(1, 'discard', [refTo(0)])]), 'An invented name', LATER);
    const [bare, full] = [copyForPatient(whole), copyForPatient(whole, true)];
    expect((await store.keepReview(bare)).ok).toBe(true);
    expect((await store.keepReview(full)).ok).toBe(true);
    expect((await store.keepReview(bare)).ok).toBe(false);
    const kept = await store.reviewsOf(whole.sessionId);
    expect(kept.ok && kept.value.items).toEqual([full]);
  });
});
