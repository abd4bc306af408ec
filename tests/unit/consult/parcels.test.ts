import { describe, expect, it } from 'vitest';
import { packParcel, unpackParcel } from '../../../src/adapters/consult/pack-parcel.ts';
import { MemoryExchangeStore } from '../../../src/adapters/storage/memory-exchange-store.ts';
import { MemoryPlanStore } from '../../../src/adapters/storage/memory-plan-store.ts';
import { MemoryReviewStore } from '../../../src/adapters/storage/memory-review-store.ts';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import { CONSULT_LIMITS } from '../../../src/core/consult/limits.ts';
import { parcelMessages, parcelText, readParcel, type Parcel } from '../../../src/core/consult/parcel.ts';
import type { Stores } from '../../../src/core/exchange/take-item.ts';
import { changedReview, newReview, signedReview } from '../../../src/core/review/change-review.ts';
import { outlineOf } from '../../../src/core/session/record-opener.ts';
import type { SessionRecord } from '../../../src/core/session/session-record.ts';
import { ParcelSending } from '../../../src/state/parcel-sending.svelte.ts';
import { ParcelTaking } from '../../../src/state/parcel-taking.svelte.ts';
import { sampleRecord } from '../../helpers/sample-package.ts';

const AT = '2026-03-02T18:05:09.250+01:00';
const REVIEW_ID = '5d3f2a0e-9d4f-4a53-8c0e-3a3a1a0c9f11';
const packing = { pack: packParcel, unpack: unpackParcel };

function parcelOf(record: SessionRecord, notes = 1): Parcel {
  const text = 'Therapist: Cue: Breathe';
  const note = (index: number) => ({
    id: `5d3f2a0e-9d4f-4a53-8c0e-3a3a1a0c9${String(100 + index)}`,
    place: { setIndex: 0, timeSeconds: 2 },
    text,
    at: AT,
  });
  const begun = newReview(outlineOf(record), REVIEW_ID, AT);
  return {
    record,
    review: changedReview(begun, { notes: Array.from({ length: notes }, (_, i) => note(i)) }, AT),
  };
}

/** Both ends over a line that can be cut after so many messages. */
function ends() {
  const stores: Stores = {
    sessions: new MemorySessionStore(),
    plans: new MemoryPlanStore(),
    reviews: new MemoryReviewStore(),
    videos: null,
    exchange: new MemoryExchangeStore(),
  };
  const line = { mostMessages: Infinity, sent: 0, refused: 0 };
  const taking = new ParcelTaking({
    packing,
    loadStores: () => Promise.resolve(stores),
    moment: () => AT,
    tell: (number, isKept) => sending.noteKept(number, isKept),
  });
  const sending: ParcelSending = new ParcelSending({
    packing,
    send: (message) => {
      if (line.sent >= line.mostMessages) return false;
      line.sent += 1;
      if (taking.take(JSON.stringify(message)) !== null) line.refused += 1;
      return true;
    },
  });
  return { stores, line, taking, sending };
}

describe('a record on its way to the other side', () => {
  it('is kept there as it is here, with what was said, signed by nobody', async () => {
    const { stores, taking, sending } = ends();
    const parcel = parcelOf(sampleRecord());
    sending.pass(parcel, true);
    await taking.last();
    await sending.idle();
    expect([sending.state, taking.state, taking.sessionId]).toEqual([
      { kind: 'kept' },
      { kind: 'kept' },
      parcel.record.id,
    ]);
    expect(await stores.sessions.loadSession(parcel.record.id)).toEqual({ ok: true, value: parcel.record });
    const reviews = await stores.reviews.reviewsOf(parcel.record.id);
    expect(reviews.ok && reviews.value.items).toEqual([parcel.review]);
  });

  it('goes on after each set, and the newest state takes the place of the one before', async () => {
    const { stores, taking, sending } = ends();
    const whole = sampleRecord();
    sending.pass(parcelOf({ ...whole, sets: whole.sets.slice(0, 1) }), false);
    await sending.idle();
    sending.pass(parcelOf(whole, 2), true);
    await taking.last();
    expect(await stores.sessions.loadSession(whole.id)).toEqual({ ok: true, value: whole });
    const reviews = await stores.reviews.reviewsOf(whole.id);
    expect(reviews.ok && reviews.value.items.map(({ notes }) => notes.length)).toEqual([2]);
    const beside = await stores.exchange.listBeside();
    expect(beside.ok && beside.value).toEqual([]);
  });

  it('begins anew when the line was made anew, and comes whole', async () => {
    const { line, taking, sending } = ends();
    const record = sampleRecord();
    line.mostMessages = 2;
    sending.pass(parcelOf(record), true);
    await expect.poll(() => line.sent).toBe(2);
    expect(sending.state.kind).toBe('passing');
    line.mostMessages = Infinity;
    sending.again();
    await taking.last();
    expect([taking.state.kind, line.refused]).toEqual(['kept', 0]);
  });

  it('is told not to be kept when the line is gone before it is whole', async () => {
    const { line, taking, sending, stores } = ends();
    line.mostMessages = 2;
    sending.pass(parcelOf(sampleRecord()), true);
    await expect.poll(() => line.sent).toBe(2);
    const over = taking.last();
    taking.lineIsGone();
    sending.stop();
    await Promise.all([over, sending.idle()]);
    expect([taking.state.kind, sending.state.kind]).toEqual(['not-kept', 'not-kept']);
    expect((await stores.sessions.listSessions()).ok && (await stores.sessions.listSessions())).toEqual({
      ok: true,
      value: [],
    });
  });

  it('is refused when it was signed, is about another session, or unpacks to more than is allowed', async () => {
    const parcel = parcelOf(sampleRecord());
    const signed = { ...parcel, review: signedReview(parcel.review, 'A. Sample', AT) };
    const other = { ...parcel, review: { ...parcel.review, sessionId: REVIEW_ID } };
    expect(readParcel(parcelText(parcel)).ok).toBe(true);
    expect([readParcel(parcelText(signed)), readParcel(parcelText(other))]).toEqual([
      { ok: false, problem: 'damaged' },
      { ok: false, problem: 'damaged' },
    ]);
    const bomb = await packParcel('a'.repeat(20_000_000));
    expect(bomb.length).toBeLessThan(60_000);
    expect(await unpackParcel(bomb, 10_000_000)).toBeNull();
  });

  it('is refused when anything of it was changed, cut or sent out of order, and nothing of it is kept', async () => {
    const packed = await packParcel(parcelText(parcelOf(sampleRecord())));
    const messages = parcelMessages(packed, 1, true);
    const [head, first, ...rest] = messages;
    if (head === undefined || first?.kind !== 'part') throw new Error('too short');
    const { stores, taking } = ends();
    const take = (message: unknown): string | null => taking.take(JSON.stringify(message));
    expect(take(first)).toBe('out-of-order');
    expect(take(head)).toBeNull();
    expect(take({ ...first, start: 5 })).toBe('out-of-order');
    expect(take({ ...first, number: 2 })).toBe('out-of-order');
    expect(take({ ...first, text: '<script>' })).toBe('not-read');
    expect(take({ ...first, text: 'A'.repeat(CONSULT_LIMITS.partCharacters + 1) })).toBe('not-read');
    expect(take({ ...head, characters: CONSULT_LIMITS.packedCharacters + 1 })).toBe('not-read');
    const middle = first.text.length >> 1;
    const changed = first.text[middle] === 'A' ? 'B' : 'A';
    const text = first.text.slice(0, middle) + changed + first.text.slice(middle + 1);
    for (const message of [head, { ...first, text }, ...rest]) take(message);
    await taking.last();
    expect(taking.state.kind).toBe('not-kept');
    const listed = await stores.sessions.listSessions();
    expect(listed.ok && listed.value).toEqual([]);
  });
});
