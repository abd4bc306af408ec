import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { laterState } from '../plan/merge-days.ts';
import type { PlanStore } from '../plan/plan-store.ts';
import { isSameValue } from '../plan/same-value.ts';
import type { ReviewStore } from '../review/review-store.ts';
import type { SessionRecord } from '../session/session-record.ts';
import type { SessionStore } from '../session/session-store.ts';
import type { Stored } from '../stored.ts';
import type { AsideValue, BackupItem } from './backup-lines.ts';

/** Where what is restored goes. */
export interface RestoreTargets {
  readonly sessions: SessionStore;
  readonly plans: PlanStore;
  readonly reviews: ReviewStore;
  /** Keeps a value beside everything else, under an id of its own; the same again changes nothing. False: it was there. */
  setAside(id: string, value: AsideValue): Promise<Stored<boolean>>;
  /** Takes a session that cannot be read out of its place and keeps it aside, with everything that belongs to it. */
  setSessionAside(sessionId: string): Promise<Stored<unknown>>;
}

/**
 * What became of an item. added: it was not here. same: it was here just so. kept-both: something else was here under its
 * name, and both are kept. left: it says what there is one of, and another is chosen here. locked: a key whose passphrase
 * was not given.
 */
export type RestoreOutcome = 'added' | 'same' | 'kept-both' | 'left' | 'locked';

/** The items that are documents or rows; the others are restored by whoever keeps them. */
export type DocumentItem = Exclude<
  BackupItem,
  { kind: 'preferences' | 'key' | 'video' | 'video-bytes' | 'beside' | 'beside-bytes' }
>;

const ADDED: Stored<RestoreOutcome> = { ok: true, value: 'added' };
const SAME: Stored<RestoreOutcome> = { ok: true, value: 'same' };
const KEPT_BOTH: Stored<RestoreOutcome> = { ok: true, value: 'kept-both' };
const LEFT: Stored<RestoreOutcome> = { ok: true, value: 'left' };

/** Takes one item of a backup in. Never overwrites, and changes nothing when it is done again. */
export async function restoreItem(item: DocumentItem, to: RestoreTargets): Promise<Stored<RestoreOutcome>> {
  switch (item.kind) {
    case 'record':
      return restoreRecord(item.value, to);
    case 'plan':
      return restorePlan(item.value, to);
    case 'day':
      return restoreDay(item.value, to);
    case 'decision':
      return restoreDecision(item.value, to);
    case 'review':
      return restoreReview(item.value, to);
    case 'followed':
      return restoreFollowed(item.value, to);
    case 'draft': {
      const kept = await to.plans.draft();
      if (!kept.ok) return kept;
      if (kept.value !== null) return isSameValue(kept.value, item.value) ? SAME : LEFT;
      return outcome(await to.plans.keepDraft(item.value), ADDED);
    }
    case 'aside':
      return aside(item.value, to, ADDED);
  }
}

/**
 * A UUID that follows from a document's content (version 8 of RFC 9562: of an application's own making), so that the same
 * document always gets the same one.
 */
export function contentId(document: unknown): string {
  const hex = bytesToHex(sha256(utf8ToBytes(JSON.stringify(document))));
  const variant = '89ab'.charAt(parseInt(hex.charAt(16), 16) % 4);
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    `8${hex.slice(13, 16)}`,
    `${variant}${hex.slice(17, 20)}`,
    hex.slice(20, 32),
  ].join('-');
}

async function restoreRecord(record: SessionRecord, to: RestoreTargets): Promise<Stored<RestoreOutcome>> {
  const kept = await to.sessions.importRecord(record);
  if (kept.ok) return ADDED;
  if (kept.problem !== 'already-kept') return kept;
  const here = await to.sessions.loadSession(record.id);
  if (here.ok && isSameValue(here.value, record)) return SAME;
  if (!here.ok) {
    if (here.problem !== 'unreadable') return here;
    const room = await to.setSessionAside(record.id);
    return room.ok ? outcome(await to.sessions.importRecord(record), KEPT_BOTH) : room;
  }
  // The other one is a session of its own. It stays with its plan, but not in its training day, whose sets would be counted
  // twice.
  const id = contentId(record);
  const plan = record.plan && { ...record.plan, dayId: contentId([id, record.plan.dayId]) };
  const other = await to.sessions.importRecord({ ...record, id, plan });
  return other.ok || other.problem === 'already-kept' ? KEPT_BOTH : other;
}

async function restorePlan(
  plan: Extract<BackupItem, { kind: 'plan' }>['value'],
  to: RestoreTargets,
): Promise<Stored<RestoreOutcome>> {
  const here = await to.plans.loadVersion(plan.id, plan.version);
  if (here.ok && isSameValue(here.value, plan)) return SAME;
  // What cannot be read is set aside by the store.
  if (!here.ok && here.problem === 'unreadable') return outcome(await to.plans.keepVersion(plan), KEPT_BOTH);
  if (!here.ok && here.problem === 'missing') return outcome(await to.plans.keepVersion(plan), ADDED);
  if (!here.ok) return here;
  return outcome(await to.plans.keepVersion({ ...plan, id: contentId(plan) }), KEPT_BOTH);
}

/** Of two states of a day the later one is the day, as everywhere; the other is set aside, so that nothing is lost. */
async function restoreDay(
  day: Extract<BackupItem, { kind: 'day' }>['value'],
  to: RestoreTargets,
): Promise<Stored<RestoreOutcome>> {
  const here = await to.plans.loadDay(day.id);
  if (!here.ok) {
    if (here.problem === 'missing') return outcome(await to.plans.mergeDay(day), ADDED);
    return here.problem === 'unreadable' ? outcome(await to.plans.mergeDay(day), KEPT_BOTH) : here;
  }
  if (isSameValue(here.value, day)) return SAME;
  const later = laterState(here.value, day);
  const earlier = later === day ? here.value : day;
  const kept = await aside(rowOf('days', day.id, earlier), to, KEPT_BOTH);
  if (!kept.ok || later === here.value) return kept;
  return outcome(await to.plans.mergeDay(day), KEPT_BOTH);
}

async function restoreDecision(
  decision: Extract<BackupItem, { kind: 'decision' }>['value'],
  to: RestoreTargets,
): Promise<Stored<RestoreOutcome>> {
  const listed = await to.plans.listDecisions(decision.planId);
  if (!listed.ok) return listed;
  const here = listed.value.items.find(({ id }) => id === decision.id);
  if (here === undefined) return outcome(await to.plans.putDecision(decision), ADDED);
  // A second decision would decide twice.
  return isSameValue(here, decision) ? SAME : aside(rowOf('decisions', decision.id, decision), to, KEPT_BOTH);
}

async function restoreReview(
  review: Extract<BackupItem, { kind: 'review' }>['value'],
  to: RestoreTargets,
): Promise<Stored<RestoreOutcome>> {
  const listed = await to.reviews.listReviews();
  if (!listed.ok) return listed;
  const here = listed.value.items.find(({ id }) => id === review.id);
  if (here === undefined) return outcome(await to.reviews.keepReview(review), ADDED);
  return isSameValue(here, review) ? SAME : aside(rowOf('reviews', review.id, review), to, KEPT_BOTH);
}

async function restoreFollowed(planId: string, to: RestoreTargets): Promise<Stored<RestoreOutcome>> {
  const here = await to.plans.followed();
  if (!here.ok) return here.problem === 'unreadable' ? LEFT : here;
  if (here.value !== null) return here.value.id === planId ? SAME : LEFT;
  const followed = await to.plans.follow(planId);
  return !followed.ok && followed.problem === 'missing' ? LEFT : outcome(followed, ADDED);
}

async function aside(
  value: AsideValue,
  to: RestoreTargets,
  done: Stored<RestoreOutcome>,
): Promise<Stored<RestoreOutcome>> {
  const kept = await to.setAside(contentId(value), value);
  if (!kept.ok) return kept;
  return kept.value ? done : SAME;
}

function rowOf(table: string, key: string, value: unknown): AsideValue {
  return { table, key, value };
}

function outcome(done: Stored<unknown>, then: Stored<RestoreOutcome>): Stored<RestoreOutcome> {
  return done.ok ? then : done;
}
