import { describe, expect, it } from 'vitest';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import { recordsHere } from '../../../src/core/export/open-record.ts';
import { OPEN_SET, withSet } from '../../../src/core/plan/day-course.ts';
import { beginDay } from '../../../src/core/plan/day-turns.ts';
import { trendOf } from '../../../src/core/plan/trend.ts';
import { followingReview, signedReview } from '../../../src/core/review/change-review.ts';
import { copyForPatient } from '../../../src/core/review/patient-copy.ts';
import { reviewedDays } from '../../../src/core/review/reviewed-days.ts';
import type { ReviewDocument } from '../../../src/core/review/review-document.ts';
import { measuredDoneOf } from '../../../src/core/session/day-figures.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';
import { correction, idOf, LATER, outline, record, refTo, review } from './sample-review.ts';

const [set] = outline.sets;
if (set === undefined) throw new Error('The sample has no set.');
const measured = measuredDoneOf(set, 'repetitions');
const day = withSet(
  beginDay(inventedPlan(), 'c4a9e6d2-58b1-4f37-9d0e-71b3f2a8c590', '2026-03-02T18:00:00+01:00'),
  { exerciseKey: 'some-key', exercise: 'body-curl', recordId: outline.id },
  { ...OPEN_SET, measured },
);
const discarding = review([correction(1, 'discard', [refTo(0)])]);
const signed = signedReview(discarding, 'An invented name', LATER);
const whole = measured.repetitions ?? 0;

async function after(...reviews: readonly ReviewDocument[]) {
  const store = new MemorySessionStore();
  await store.importRecord(record);
  const { days, corrections } = await reviewedDays([day], reviews, recordsHere(store));
  return { repetitions: days[0]?.exercises[0]?.sets[0]?.measured?.repetitions, days, corrections };
}

describe('training days after their reviews', () => {
  it('go by the corrected figures once a review is signed, and keep what was recorded', async () => {
    const { repetitions, days, corrections } = await after(signed);
    expect(repetitions).toBe(whole - 1);
    expect(corrections.get(day.id)).toMatchObject({
      recorded: day,
      by: [{ name: 'An invented name' }],
      unmatchedSets: 0,
    });
    // What is weighed is another day than the kept one, so the trend is another too.
    expect(trendOf(days)).not.toEqual(trendOf([day]));
  });

  it('stay as recorded while nobody has signed', async () => {
    const { repetitions, corrections } = await after(discarding);
    expect(repetitions).toBe(whole);
    expect(corrections.size).toBe(0);
  });

  it('go on by the signed review while one that follows it is being written', async () => {
    const next = followingReview(signed, idOf(8), LATER);
    const { repetitions } = await after(signed, { ...next, corrections: [] });
    expect(repetitions).toBe(whole - 1);
  });

  it('follow the copy for the patient as well', async () => {
    expect((await after(copyForPatient(signed))).repetitions).toBe(whole - 1);
  });

  it('stay as they are where the record is not kept here', async () => {
    const { days } = await reviewedDays([day], [signed], recordsHere(new MemorySessionStore()));
    expect(days).toEqual([day]);
  });
});
