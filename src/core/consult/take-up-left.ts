import type { Stores } from '../exchange/take-item.ts';
import { changedReview, newReview } from '../review/change-review.ts';
import { outlineOf } from '../session/record-opener.ts';
import { keepParcel } from './keep-parcel.ts';
import type { LeftSession } from './left-session.ts';
import type { Parcel } from './parcel.ts';

/**
 * Ends a session whose page was lost, and keeps what was said in it with it. May be repeated. gone: there is no such session any more. later: it
 * is being recorded in another tab, or could not be kept now.
 * @param cameAt - moment with offset
 */
export async function takeUpLeft(
  { sessionId, reviewId, begunAt, changedAt, notes }: LeftSession,
  stores: Stores,
  cameAt: string,
): Promise<Parcel | 'gone' | 'later'> {
  const listed = await stores.sessions.listSessions();
  if (!listed.ok) return 'later';
  const state = listed.value.find(({ id }) => id === sessionId)?.state;
  if (state === undefined) return 'gone';
  if (state === 'recording') return 'later';
  if (state === 'unfinished') await stores.sessions.finishSession(sessionId);
  const kept = await stores.sessions.loadSession(sessionId);
  if (!kept.ok) return 'later';
  const begun = newReview(outlineOf(kept.value), reviewId, begunAt);
  const parcel = { record: kept.value, review: changedReview(begun, { notes }, changedAt) };
  return (await keepParcel(parcel, stores, cameAt)) ? parcel : 'later';
}
