import type { Decision } from '../plan/decision.ts';
import type { Plan } from '../plan/plan.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import type { ReviewDocument } from '../review/review-document.ts';
import type { SessionListing } from '../session/session-store.ts';
import type { KeptVideo } from '../session/video-store.ts';
import type { Stored, StorageProblem } from '../stored.ts';
import type { Stores } from './take-item.ts';

/** Whose things are meant: of a plan, of no plan (sessions that followed none, or one that is not kept here), or of everybody here. */
export type Whose =
  | { readonly kind: 'plan'; readonly planId: string }
  | { readonly kind: 'no-plan' }
  | { readonly kind: 'everybody' };

/** Everything that is kept of a person. Sessions and videos are named, because they are large; the rest is whole. */
export interface PersonContents {
  readonly whose: Whose;
  readonly plans: readonly Plan[];
  readonly decisions: readonly Decision[];
  readonly days: readonly TrainingDay[];
  readonly sessions: readonly SessionListing[];
  readonly reviews: readonly ReviewDocument[];
  readonly videos: readonly KeptVideo[];
  /** Kept things that cannot be read; they are no part of what is sent. */
  readonly unreadable: number;
}

/** Lists everything that is kept of a person: all plan versions, decisions, training days, sessions, reviews and videos. */
export async function contentsOf(whose: Whose, stores: Stores): Promise<Stored<PersonContents>> {
  try {
    return { ok: true, value: await gather(whose, stores) };
  } catch (error) {
    if (error instanceof Unkept) return { ok: false, problem: error.problem, detail: error.message };
    throw error;
  }
}

/** A store that failed, on its way out to a value. */
class Unkept extends Error {
  readonly problem: StorageProblem;

  constructor(problem: StorageProblem, detail: string) {
    super(detail);
    this.problem = problem;
  }
}

function valueOf<Value>(stored: Stored<Value>): Value {
  if (stored.ok) return stored.value;
  throw new Unkept(stored.problem, stored.detail);
}

async function gather(whose: Whose, stores: Stores): Promise<PersonContents> {
  const listed = valueOf(await stores.plans.listPlans());
  const planIds = listed
    .map(({ planId }) => planId)
    .filter((planId) => whose.kind === 'everybody' || (whose.kind === 'plan' && planId === whose.planId));
  const keptIds = new Set(listed.map(({ planId }) => planId));
  const plans: Plan[] = [];
  const decisions: Decision[] = [];
  const days: TrainingDay[] = [];
  let unreadable = 0;
  for (const planId of planIds) {
    const versions = valueOf(await stores.plans.versionsOf(planId));
    const decided = valueOf(await stores.plans.listDecisions(planId));
    const trained = valueOf(await stores.plans.listDays(planId));
    plans.push(...versions.items);
    decisions.push(...decided.items);
    days.push(...trained.items);
    unreadable += versions.unreadable + decided.unreadable + trained.unreadable;
  }
  const named = new Set(days.flatMap(({ exercises }) => exercises.flatMap(({ recordId }) => recordId ?? [])));
  const isTheirs = ({ id, plan }: SessionListing): boolean =>
    whose.kind === 'everybody' ||
    (whose.kind === 'no-plan'
      ? plan === null || !keptIds.has(plan.planId)
      : plan?.planId === whose.planId || named.has(id));
  const sessions = valueOf(await stores.sessions.listSessions()).filter(isTheirs);
  const ids = new Set(sessions.map(({ id }) => id));
  const reviewed = valueOf(await stores.reviews.listReviews());
  const filmed = stores.videos === null ? [] : valueOf(await stores.videos.listVideos());
  return {
    whose,
    plans,
    decisions,
    days,
    sessions,
    reviews: reviewed.items.filter(({ sessionId }) => whose.kind === 'everybody' || ids.has(sessionId)),
    videos: filmed.filter(({ sessionId }) => ids.has(sessionId)),
    unreadable,
  };
}
