import { instantSeconds } from '../plan/calendar.ts';
import { laterState } from '../plan/merge-days.ts';
import { isSameValue } from '../plan/same-value.ts';
import { isCopyOf, isFullerCopy } from '../review/patient-copy.ts';
import type { ReviewDocument } from '../review/review-document.ts';
import { documentOf, type PackageItem } from './package-items.ts';

/**
 * How what came stands to what is kept under the same name: the same; a later state of it, which takes its place without
 * losing anything; an earlier state, of which everything is kept already; or another content.
 */
export type Standing = 'same' | 'later' | 'earlier' | 'other';

/** Compares what came with what is kept under the same name. Throws when they are of different kinds. */
export function standingOf(kept: PackageItem, came: PackageItem): Standing {
  if (kept.kind === 'video' && came.kind === 'video')
    return kept.video.bytes === came.content.size ? 'same' : 'other';
  if (kept.kind === 'video' || came.kind === 'video' || kept.kind !== came.kind)
    throw new Error(`standingOf: a ${kept.kind} is not compared with a ${came.kind}.`);
  if (isSameValue(documentOf(kept), documentOf(came))) return 'same';
  if (kept.kind === 'day' && came.kind === 'day') {
    const later = laterState(kept.day, came.day);
    const [before, after] = later === came.day ? [kept.day, came.day] : [came.day, kept.day];
    if (!goesOnFrom(before, after)) return 'other';
    return later === came.day ? 'later' : 'earlier';
  }
  // A session goes on: sets are added, and what was asked after one is answered.
  if (kept.kind === 'record' && came.kind === 'record') {
    if (goesOnFrom(kept.record, came.record)) return 'later';
    return goesOnFrom(came.record, kept.record) ? 'earlier' : 'other';
  }
  if (kept.kind === 'review' && came.kind === 'review') return standingOfReview(kept.review, came.review);
  return 'other';
}

/** What is not signed goes on being written; the patient's copy has less than the whole one and never takes its place. */
function standingOfReview(kept: ReviewDocument, came: ReviewDocument): Standing {
  if (came.scope === 'whole' && kept.scope !== 'whole')
    return kept.signOff === null || isCopyOf(kept, came) ? 'later' : 'other';
  if (kept.scope === 'whole' && came.scope !== 'whole') return isCopyOf(came, kept) ? 'earlier' : 'other';
  if (isFullerCopy(kept, came)) return 'later';
  if (isFullerCopy(came, kept)) return 'earlier';
  const isLater = instantSeconds(came.changedAt) >= instantSeconds(kept.changedAt);
  const [before, after] = isLater ? [kept, came] : [came, kept];
  if (before.signOff !== null || !holdsAllOf(before, after)) return 'other';
  return isLater ? 'later' : 'earlier';
}

/** Whether every correction, note, drawing and angle of the one stands in the other as well, unchanged or gone on from. */
function holdsAllOf(before: ReviewDocument, after: ReviewDocument): boolean {
  const lists = ['corrections', 'notes', 'drawings', 'handAngles'] as const;
  return lists.every((list) =>
    before[list].every((one) => after[list].some((other) => other.id === one.id && goesOnFrom(one, other))),
  );
}

/** True where everything that the earlier says stands in the later; what was left open may have been answered. */
function goesOnFrom(earlier: unknown, later: unknown): boolean {
  if (earlier === null || earlier === undefined) return true;
  if (Array.isArray(earlier))
    return Array.isArray(later) && earlier.every((each, index) => goesOnFrom(each, later[index]));
  if (typeof earlier === 'object' && typeof later === 'object' && later !== null) {
    const after = new Map<string, unknown>(Object.entries(later));
    return Object.entries(earlier).every(([name, value]) => goesOnFrom(value, after.get(name)));
  }
  return earlier === later;
}
