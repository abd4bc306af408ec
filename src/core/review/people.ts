import { instantSeconds } from '../plan/calendar.ts';
import type { Decision } from '../plan/decision.ts';
import type { Plan } from '../plan/plan.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import type { SessionListing } from '../session/session-store.ts';

/** A session that came in, and whether a therapist has signed that it was looked at. */
export interface CameIn {
  readonly listing: SessionListing;
  /** Moment with offset; null while nobody has signed. */
  readonly signedAt: string | null;
}

/** Everything that is kept of one plan. */
export interface PlanFacts {
  readonly planId: string;
  /** All versions that can be read, the oldest first; none where only records name the plan. */
  readonly versions: readonly Plan[];
  /** The oldest first. */
  readonly days: readonly TrainingDay[];
  /** The oldest first. */
  readonly decisions: readonly Decision[];
}

/**
 * One person of a therapist's list: everything of one plan, which is all that is known of who they are. A record that
 * followed no plan stands by itself, because nothing says whose it is.
 */
export interface Person extends Omit<PlanFacts, 'planId'> {
  /** The plan's id, or the session's where there is no plan. */
  readonly key: string;
  readonly planId: string | null;
  /** The newest first. */
  readonly sessions: readonly CameIn[];
  /** The plan is followed on this machine: the sessions are done here, and signed elsewhere. */
  readonly isFollowedHere: boolean;
}

/** The plan that a person follows now, or null where none is kept here. */
export function planOf({ versions }: Pick<Person, 'versions'>): Plan | null {
  return versions.at(-1) ?? null;
}

/**
 * Everyone of whom something is kept, in no order that means anything; needs.ts puts them in order.
 * @param followedPlanId - the plan that is followed on this machine; null where none is
 */
export function peopleOf(
  plans: readonly PlanFacts[],
  sessions: readonly CameIn[],
  followedPlanId: string | null = null,
): Person[] {
  const byPlan = new Map<string, CameIn[]>();
  const alone: CameIn[] = [];
  for (const session of newestFirst(sessions)) {
    const planId = session.listing.plan?.planId;
    if (planId === undefined) alone.push(session);
    else {
      const known = byPlan.get(planId);
      if (known === undefined) byPlan.set(planId, [session]);
      else known.push(session);
    }
  }
  const kept = new Set(plans.map(({ planId }) => planId));
  const unknown = [...byPlan.keys()].filter((planId) => !kept.has(planId));
  const nothing = { versions: [], days: [], decisions: [], isFollowedHere: false };
  return [
    ...plans.map((facts) => ({
      ...facts,
      key: facts.planId,
      sessions: byPlan.get(facts.planId) ?? [],
      isFollowedHere: facts.planId === followedPlanId,
    })),
    ...unknown.map((planId) => ({ ...nothing, planId, key: planId, sessions: byPlan.get(planId) ?? [] })),
    ...alone.map((one) => ({ ...nothing, planId: null, key: one.listing.id, sessions: [one] })),
  ];
}

/** When something last came of a person: seconds since 1970; 0 where nothing did. */
export function lastSeconds({ sessions, days, versions }: Person): number {
  const [newest] = sessions;
  const moments = [
    newest?.listing.createdAt,
    days.at(-1)?.startedAt,
    // A plan that nobody has trained by yet came when it was written.
    sessions.length === 0 && days.length === 0 ? versions.at(-1)?.writtenAt : undefined,
  ];
  return Math.max(0, ...moments.flatMap((moment) => (moment === undefined ? [] : [instantSeconds(moment)])));
}

function newestFirst(sessions: readonly CameIn[]): CameIn[] {
  return sessions
    .map((session) => ({ session, at: instantSeconds(session.listing.createdAt) }))
    .sort((a, b) => b.at - a.at)
    .map(({ session }) => session);
}
