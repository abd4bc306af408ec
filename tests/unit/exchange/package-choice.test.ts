import { describe, expect, it } from 'vitest';
import { chosenDocuments, type PackageChoice } from '../../../src/core/exchange/package-choice.ts';
import { standingOf } from '../../../src/core/exchange/standing.ts';
import { staysHereWords } from '../../../src/core/feedback/exchange-words.ts';
import { followingReview, signedReview } from '../../../src/core/review/change-review.ts';
import type { ReviewDocument } from '../../../src/core/review/review-document.ts';
import type { SessionListing } from '../../../src/core/session/session-store.ts';
import { listedFacts } from '../../../src/core/session/session-listing.ts';
import { dayOn, inventedPlan } from '../../helpers/plan-days.ts';
import { AT, correction, idOf, LATER, outline, refTo, review } from '../review/sample-review.ts';

/* What of a therapist's things goes to a patient, byte for byte. Everything in it is invented. */

const SECRET = 'Between us: ask the surgeon.';
const REASON = 'Seen in the video.';
const whole: ReviewDocument = {
  ...review([correction(1, 'discard', [refTo(0)])]),
  notes: [{ id: idOf(7), place: null, text: SECRET, at: AT }],
  answer: { text: 'Lower more slowly.', moments: [] },
};
const signed = signedReview(whole, 'An invented name', LATER);
const plan = inventedPlan();
const { sets, ...header } = outline;
const listing: SessionListing = {
  ...listedFacts(
    header,
    sets.map((set) => ({ beginning: { painBefore: null }, findings: set, answers: set.answers })),
  ),
  state: 'finished',
  cutOffSeconds: 0,
};
const PATIENT: PackageChoice = {
  reader: 'patient',
  sessions: 'all',
  withReasons: false,
  withRecords: false,
};

function sent(reviews: readonly ReviewDocument[], change: Partial<PackageChoice> = {}) {
  const contents = { plans: [plan], decisions: [], days: [dayOn(plan, '03-02')], reviews };
  return chosenDocuments(contents, [listing], { ...PATIENT, ...change });
}

const reviewsIn = (items: ReturnType<typeof sent>): ReviewDocument[] =>
  items.flatMap((item) => (item.kind === 'review' ? [item.review] : []));

describe('a package for the patient', () => {
  it('carries the plan and the signed answer, and neither notes, reasons nor days', () => {
    const items = sent([signed]);
    expect(items.map(({ kind }) => kind)).toEqual(['plan', 'review']);
    expect(reviewsIn(items)).toMatchObject([
      { scope: 'for-patient', answer: { text: 'Lower more slowly.' } },
    ]);
    expect(JSON.stringify(items)).not.toContain(SECRET);
    expect(JSON.stringify(items)).not.toContain(REASON);
  });

  it('carries reasons and days where they are chosen, and never a note', () => {
    const items = sent([signed], { withReasons: true, withRecords: true });
    expect(items.map(({ kind }) => kind)).toEqual(['plan', 'day', 'review']);
    expect(JSON.stringify(items)).toContain(REASON);
    expect(JSON.stringify(items)).not.toContain(SECRET);
  });

  it('leaves a review out that nobody signed, and sends the signed one that it follows', () => {
    expect(reviewsIn(sent([whole]))).toEqual([]);
    const next = followingReview(signed, idOf(9), LATER);
    expect(reviewsIn(sent([signed, next])).map(({ id }) => id)).toEqual([signed.id]);
    const signedNext = signedReview(next, 'An invented name', '2026-03-04T09:00:00.000+01:00');
    expect(reviewsIn(sent([signed, signedNext])).map(({ id }) => id)).toEqual([next.id]);
  });

  it('says what stays here', () => {
    expect(staysHereWords(PATIENT, 1)).toMatch(/your notes.*reasons of corrections.*1 review is not signed/);
    expect(staysHereWords({ ...PATIENT, withReasons: true }, 0)).not.toMatch(/reasons of corrections/);
  });

  it('goes whole to whoever treats', () => {
    expect(reviewsIn(sent([signed], { reader: 'therapist' }))).toEqual([signed]);
  });

  it('changes nothing when it comes back to where the whole review is, and is told apart from a forged one', () => {
    const [copy] = reviewsIn(sent([signed]));
    if (copy === undefined) throw new Error('No copy.');
    const kept = { kind: 'review', review: signed } as const;
    expect(standingOf(kept, { kind: 'review', review: copy })).toBe('earlier');
    expect(standingOf({ kind: 'review', review: copy }, kept)).toBe('later');
    const forged = { ...copy, answer: { text: 'Pull as hard as you can.', moments: [] } };
    expect(standingOf(kept, { kind: 'review', review: forged })).toBe('other');
  });
});
