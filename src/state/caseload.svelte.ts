import type { PlanStore } from '../core/plan/plan-store.ts';
import { dateWords } from '../core/feedback/date-words.ts';
import { PLANNED_EXERCISE_WORDS } from '../core/feedback/dose-words.ts';
import { findPeople, searchIndex, type SearchIndex, type SearchNames } from '../core/review/find-people.ts';
import { inNeedOrder, needsOf, type PersonNeeds } from '../core/review/needs.ts';
import { peopleOf, type CameIn, type PlanFacts } from '../core/review/people.ts';
import { reviewedDays } from '../core/review/reviewed-days.ts';
import type { ReviewStore } from '../core/review/review-store.ts';
import { signedAt } from '../core/review/signed-at.ts';
import type { RecordOpener } from '../core/session/record-opener.ts';
import type { SessionListing } from '../core/session/session-store.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';

/** So many plans are read at once. */
const AT_ONCE = 20;
/** After so long the page gets its turn. */
const LONGEST_TURN_SECONDS = 0.02;

const NAMES: SearchNames = { exercise: (name) => PLANNED_EXERCISE_WORDS[name], date: dateWords };

/** What the list of people needs from outside. */
export interface CaseloadParts {
  readonly plans: PlanStore;
  readonly reviews: () => Promise<Pick<ReviewStore, 'listReviews'>>;
  readonly records: RecordOpener;
  /** The moment of the wall clock, with offset. */
  readonly moment: () => string;
  /** A clock that only rises, seconds; its zero does not matter. */
  readonly nowSeconds: () => number;
}

/** Somebody of the list as it is shown: with what asks for a look, and the sessions that a search left. */
export interface ShownPerson extends PersonNeeds {
  readonly sessions: readonly CameIn[];
}

/** Everyone of whom something is kept here, sorted by who needs a look first, for the therapist. */
export class Caseload {
  readonly #parts: CaseloadParts;
  #people = $state.raw<readonly PersonNeeds[] | null>(null);
  #index: SearchIndex = searchIndex([], NAMES);
  #share = $state(0);
  #unreadable = $state(0);
  #problem = $state.raw<StorageProblem | null>(null);
  #picked = $state.raw<readonly string[]>([]);
  #looked = 0;
  search = $state('');

  readonly #shown: readonly ShownPerson[] = $derived(
    findPeople(this.#people ?? [], this.#index, this.search),
  );

  constructor(parts: CaseloadParts) {
    this.#parts = parts;
  }

  /** Everybody that fits the search, who needs a look first at the front. */
  get shown(): readonly ShownPerson[] {
    return this.#shown;
  }

  /** How many people there are; null until they were looked up. */
  get count(): number | null {
    return this.#people?.length ?? null;
  }

  /** How much of looking up is done, 0 to 1. */
  get share(): number {
    return this.#share;
  }

  /** Plans, days, decisions and reviews that are kept and cannot be read. */
  get unreadable(): number {
    return this.#unreadable;
  }

  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** The sessions that were picked to be compared, at most one here: the second leads to the comparison. */
  get picked(): readonly string[] {
    return this.#picked;
  }

  /** Picks a session to be compared, or lets go of it. Gives both once there are two. */
  pick(sessionId: string): readonly [string, string] | null {
    const [first] = this.#picked;
    if (first === sessionId) this.#picked = [];
    else if (first === undefined) this.#picked = [sessionId];
    else {
      this.#picked = [];
      return [first, sessionId];
    }
    return null;
  }

  /** Looks everybody up. Asked for again meanwhile, the later one wins. */
  async look(listings: readonly SessionListing[]): Promise<void> {
    this.#looked += 1;
    const looked = this.#looked;
    const moment = this.#parts.moment();
    this.#problem = null;
    let unreadable = 0;
    const itemsOf = <Item>(
      stored: Stored<{ readonly items: readonly Item[]; readonly unreadable: number }>,
    ) => {
      if (!stored.ok) {
        if (stored.problem !== 'missing') this.#problem = stored.problem;
        return [];
      }
      unreadable += stored.value.unreadable;
      return stored.value.items;
    };
    const { plans } = this.#parts;
    const listed = await plans.listPlans();
    if (!listed.ok) this.#problem = listed.problem;
    const ids = listed.ok ? listed.value.map(({ planId }) => planId) : [];
    const followed = await plans.followed();
    const reviews = await this.#parts.reviews();
    const kept = itemsOf(await reviews.listReviews());
    const signed = signedAt(kept);
    const facts: PlanFacts[] = [];
    for (let from = 0; from < ids.length; from += AT_ONCE) {
      const some = ids.slice(from, from + AT_ONCE).map(async (planId) => ({
        planId,
        versions: itemsOf(await plans.versionsOf(planId)),
        days: (await reviewedDays(itemsOf(await plans.listDays(planId)), kept, this.#parts.records)).days,
        decisions: itemsOf(await plans.listDecisions(planId)),
      }));
      facts.push(...(await Promise.all(some)));
      if (this.#looked !== looked) return;
      this.#share = (0.5 * facts.length) / ids.length;
    }
    const came = listings.map((listing): CameIn => ({
      listing,
      signedAt: signed.get(listing.id) ?? null,
    }));
    const people = peopleOf(facts, came, followed.ok ? (followed.value?.id ?? null) : null);
    const needs: PersonNeeds[] = [];
    let turnBegan = this.#parts.nowSeconds();
    for (const person of people) {
      needs.push({ person, needs: needsOf(person, moment) });
      if (this.#parts.nowSeconds() - turnBegan < LONGEST_TURN_SECONDS) continue;
      await new Promise((resolve) => setTimeout(resolve, 0));
      turnBegan = this.#parts.nowSeconds();
      if (this.#looked !== looked) return;
      this.#share = 0.5 + (0.5 * needs.length) / people.length;
    }
    this.#index = searchIndex(people, NAMES);
    this.#unreadable = unreadable;
    this.#people = inNeedOrder(needs);
  }
}
