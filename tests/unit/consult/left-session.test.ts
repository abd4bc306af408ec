import { describe, expect, it } from 'vitest';
import { MemoryExchangeStore } from '../../../src/adapters/storage/memory-exchange-store.ts';
import { MemoryPlanStore } from '../../../src/adapters/storage/memory-plan-store.ts';
import { MemoryReviewStore } from '../../../src/adapters/storage/memory-review-store.ts';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import { readLeft, type LeftSession } from '../../../src/core/consult/left-session.ts';
import { takeUpLeft } from '../../../src/core/consult/take-up-left.ts';
import type { Stores } from '../../../src/core/exchange/take-item.ts';
import { sampleRecord } from '../../helpers/sample-package.ts';

const AT = '2026-03-02T18:05:09.250+01:00';
const NOTE = {
  id: '5d3f2a0e-9d4f-4a53-8c0e-3a3a1a0c9101',
  place: { setIndex: 0, timeSeconds: 2 },
  text: 'Therapist: Cue: Breathe',
  at: AT,
};

function stores(): Stores {
  return {
    sessions: new MemorySessionStore(),
    plans: new MemoryPlanStore(),
    reviews: new MemoryReviewStore(),
    videos: null,
    exchange: new MemoryExchangeStore(),
  };
}

const leftOf = (sessionId: string): LeftSession => ({
  consultId: 'consult-1',
  sessionId,
  reviewId: '5d3f2a0e-9d4f-4a53-8c0e-3a3a1a0c9f11',
  begunAt: AT,
  changedAt: AT,
  notes: [NOTE],
});

describe('a session whose page was lost in a consult', () => {
  it('is kept with what was said in it, once however often it is taken up', async () => {
    const kept = stores();
    const record = sampleRecord();
    await kept.sessions.importRecord(record);
    const first = await takeUpLeft(leftOf(record.id), kept, AT);
    const second = await takeUpLeft(leftOf(record.id), kept, '2026-03-02T18:09:09.250+01:00');
    expect(second).toEqual(first);
    const reviews = await kept.reviews.reviewsOf(record.id);
    expect(reviews.ok && reviews.value.items.map(({ notes }) => notes)).toEqual([[NOTE]]);
    const beside = await kept.exchange.listBeside();
    expect(beside.ok && beside.value).toEqual([]);
  });

  it('is gone where nobody keeps it any more', async () => {
    expect(await takeUpLeft(leftOf(sampleRecord().id), stores(), AT)).toBe('gone');
  });

  it('is read from what this browser kept, and nothing else that lies there', () => {
    const good = leftOf(sampleRecord().id);
    expect(readLeft([good, null, { ...good, notes: 'none' }, { ...good, consultId: '../..' }, 7])).toEqual([
      good,
    ]);
  });
});
