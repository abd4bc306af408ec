import { dayOf } from '../plan/calendar.ts';
import { copyForPatient } from '../review/patient-copy.ts';
import { signedReviews } from '../review/change-review.ts';
import type { SessionListing } from '../session/session-store.ts';
import type { PackageItem } from './package-items.ts';
import type { PersonContents } from './person-contents.ts';

/** What of somebody's things goes into a package. */
export interface PackageChoice {
  /** Who will read it. The patient gets what is meant for them; whoever treats them, and one's own machine, everything. */
  readonly reader: 'therapist' | 'patient';
  /** Which sessions, or answers to which sessions, go along. recent: of the last fourteen days. */
  readonly sessions: 'recent' | 'all' | 'none';
  /** For the patient: the reasons of corrections too. They were written for the file. */
  readonly withReasons: boolean;
  /** For the patient: records and training days too. They have their own already. */
  readonly withRecords: boolean;
}

const RECENT_DAYS = 14;

/** The sessions that are meant. today: a day of the calendar (plan/calendar.ts). */
export function chosenSessions(
  { sessions }: Pick<PersonContents, 'sessions'>,
  choice: PackageChoice,
  today: number,
): readonly SessionListing[] {
  if (choice.sessions === 'none') return [];
  const first = choice.sessions === 'recent' ? today - RECENT_DAYS : -Infinity;
  return sessions.filter(({ createdAt }) => dayOf(createdAt) >= first);
}

/** True where session records, their tables and training days go along. */
export function sendsRecords({ reader, withRecords }: PackageChoice): boolean {
  return reader === 'therapist' || withRecords;
}

/** The documents that go along, without the session records. */
export function chosenDocuments(
  { plans, decisions, days, reviews }: Pick<PersonContents, 'plans' | 'decisions' | 'days' | 'reviews'>,
  sessions: readonly SessionListing[],
  choice: PackageChoice,
): PackageItem[] {
  const chosen = new Set(sessions.map(({ id }) => id));
  const of = reviews.filter(({ sessionId }) => chosen.has(sessionId));
  // What is not signed is still being written: a patient gets what is.
  const sent =
    choice.reader === 'therapist'
      ? of
      : [...signedReviews(of).values()].map((review) => copyForPatient(review, choice.withReasons));
  return [
    ...plans.map((plan) => ({ kind: 'plan', plan }) as const),
    ...decisions.map((decision) => ({ kind: 'decision', decision }) as const),
    ...(sendsRecords(choice) ? days : []).map((day) => ({ kind: 'day', day }) as const),
    ...sent.map((review) => ({ kind: 'review', review }) as const),
  ];
}

/** How many of the chosen sessions have a review that is begun and not signed: for the patient it does not go along. */
export function unsignedCount(
  { reviews }: Pick<PersonContents, 'reviews'>,
  sessions: readonly SessionListing[],
): number {
  const chosen = new Set(sessions.map(({ id }) => id));
  const followed = new Set(reviews.flatMap(({ follows }) => follows ?? []));
  return reviews.filter(
    ({ id, sessionId, signOff }) => signOff === null && chosen.has(sessionId) && !followed.has(id),
  ).length;
}
