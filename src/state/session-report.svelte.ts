import { askedAgainstDone, type AskedDoneDay } from '../core/plan/asked-done.ts';
import { dayOf, instantSeconds } from '../core/plan/calendar.ts';
import type { Decision } from '../core/plan/decision.ts';
import type { Plan } from '../core/plan/plan.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';
import { followedVersion } from '../core/plan/plan-versions.ts';
import type { TrainingDay } from '../core/plan/training-day.ts';
import { trendOf, type Trend } from '../core/plan/trend.ts';
import { weighDay, type WeighedDay } from '../core/plan/weigh-day.ts';
import { countingReview } from '../core/review/change-review.ts';
import { correctedDay } from '../core/review/corrected-day.ts';
import { correctedSession, type CorrectedSession } from '../core/review/corrected-session.ts';
import type { ReviewDocument } from '../core/review/review-document.ts';
import { reviewedDays } from '../core/review/reviewed-days.ts';
import type { ReviewStore } from '../core/review/review-store.ts';
import type { RecordOpener, RecordOutline } from '../core/session/record-opener.ts';
import type { StorageProblem } from '../core/stored.ts';

/** What a report needs from outside. */
export interface ReportParts {
  readonly records: RecordOpener;
  readonly plans: PlanStore;
  readonly reviews: () => Promise<Pick<ReviewStore, 'reviewsOf' | 'listReviews'>>;
  /** The moment of the wall clock, with offset. */
  readonly moment: () => string;
}

/** A record of the day as it stands after its review. */
export interface ReportedSession {
  readonly outline: RecordOutline;
  readonly review: ReviewDocument | null;
  readonly corrected: CorrectedSession;
}

/** What the plan says of the day of a report. */
export interface ReportedDay {
  /** The version that the day followed. */
  readonly plan: Plan;
  /** The version that is in force now. */
  readonly newest: Plan;
  readonly day: TrainingDay;
  readonly asked: AskedDoneDay;
  /** Days up to this one, the last ones, for the chart of pain. */
  readonly weighed: readonly WeighedDay[];
  /** Up to this day. */
  readonly trends: readonly Trend[];
  /** The first decision after the day; null where none was made. */
  readonly decision: Decision | null;
}

/** Everything that a report of a session says. */
export interface ReportFacts {
  /** All records of the day, the one that was asked for among them; only it where no day is known. */
  readonly sessions: readonly ReportedSession[];
  readonly reported: ReportedDay | null;
  readonly printedAt: string;
}

/** Days of the chart of pain. */
const CHART_DAYS = 28;

/** A session on paper: gathers the session, the rest of its day, plan, decision and review. */
export class SessionReport {
  readonly #parts: ReportParts;
  #facts = $state.raw<ReportFacts | null>(null);
  #problem = $state.raw<StorageProblem | null>(null);
  #asked = 0;

  constructor(parts: ReportParts) {
    this.#parts = parts;
  }

  get facts(): ReportFacts | null {
    return this.#facts;
  }

  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** Gathers everything; one that is asked for later wins. */
  async open(sessionId: string): Promise<void> {
    this.#asked += 1;
    const asked = this.#asked;
    this.#facts = null;
    this.#problem = null;
    const first = await this.#session(sessionId);
    if (first === null) return;
    const reported = await this.#day(first.outline);
    const ids = reported?.day.exercises.flatMap(({ recordId }) => recordId ?? []) ?? [];
    const others = await Promise.all(
      ids
        .filter((id, place) => id !== sessionId && ids.indexOf(id) === place)
        .map((id) => this.#session(id, true)),
    );
    if (this.#asked !== asked) return;
    const sessions = [first, ...others.filter((each) => each !== null)].sort(
      (a, b) => instantSeconds(a.outline.createdAt) - instantSeconds(b.outline.createdAt),
    );
    this.#facts = { sessions, reported: asCorrected(reported, sessions), printedAt: this.#parts.moment() };
  }

  /** A record with its review. One of the same day that was deleted here is left out. */
  async #session(sessionId: string, mayBeMissing = false): Promise<ReportedSession | null> {
    const opened = await this.#parts.records.open(sessionId);
    if (!opened.ok) {
      if (!mayBeMissing) this.#problem = opened.problem;
      return null;
    }
    const { outline } = opened.value;
    opened.value.close();
    const reviews = await (await this.#parts.reviews()).reviewsOf(sessionId);
    const review = reviews.ok ? countingReview(reviews.value.items) : null;
    return { outline, review, corrected: correctedSession(outline, review) };
  }

  async #day({ plan: followed }: RecordOutline): Promise<ReportedDay | null> {
    if (followed === null) return null;
    const { plans } = this.#parts;
    const [versions, days, decisions, reviews] = await Promise.all([
      plans.versionsOf(followed.planId),
      plans.listDays(followed.planId),
      plans.listDecisions(followed.planId),
      this.#parts.reviews().then((store) => store.listReviews()),
    ]);
    const day = days.ok ? days.value.items.find(({ id }) => id === followed.dayId) : undefined;
    const plan = versions.ok && day !== undefined ? followedVersion(versions.value.items, day) : null;
    const newest = versions.ok ? versions.value.items.at(-1) : undefined;
    if (!days.ok || !versions.ok || day === undefined || plan === null || newest === undefined) return null;
    const before = days.value.items.filter(
      ({ startedAt }) => instantSeconds(startedAt) <= instantSeconds(day.startedAt),
    );
    const kept = reviews.ok ? reviews.value.items : [];
    const { days: upTo } = await reviewedDays(before, kept, this.#parts.records);
    return {
      plan,
      newest,
      day,
      asked: askedAgainstDone(plan, day),
      weighed: upTo
        .filter(({ startedAt }) => dayOf(day.startedAt) - dayOf(startedAt) < CHART_DAYS)
        .map((each) =>
          weighDay(followedVersion(versions.value.items, each) ?? plan, each, this.#parts.moment()),
        ),
      trends: trendOf(upTo),
      decision:
        (decisions.ok ? decisions.value.items : []).find(
          ({ decidedAt }) => instantSeconds(decidedAt) > instantSeconds(day.startedAt),
        ) ?? null,
    };
  }
}

/** The day with what the reviews corrected; the kept day stays as it is. */
function asCorrected(reported: ReportedDay | null, sessions: readonly ReportedSession[]): ReportedDay | null {
  if (reported === null) return null;
  const day = sessions.reduce(
    (before, { outline, corrected }) => correctedDay(before, outline, corrected).day,
    reported.day,
  );
  return { ...reported, day, asked: askedAgainstDone(reported.plan, day) };
}
