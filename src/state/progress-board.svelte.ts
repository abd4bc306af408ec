import { newestVersions, takePlan } from '../core/exchange/waiting-plans.ts';
import { decide } from '../core/plan/decide.ts';
import type { Decision, Proposal } from '../core/plan/decision.ts';
import type { Plan } from '../core/plan/plan.ts';
import type { KeptList, TakenOut } from '../core/plan/plan-store.ts';
import { followedVersion } from '../core/plan/plan-versions.ts';
import type { PlanProblem } from '../core/plan/read-plan.ts';
import type { TrainingDay } from '../core/plan/training-day.ts';
import { trendOf, type Trend } from '../core/plan/trend.ts';
import { weekView, type Week } from '../core/plan/weeks.ts';
import { weighDay, type WeighedDay } from '../core/plan/weigh-day.ts';
import { NO_REVIEWED_DAYS, reviewedDays, type ReviewedDays } from '../core/review/reviewed-days.ts';
import { propose } from '../core/feedback/propose.ts';
import type { SessionRecord } from '../core/session/session-record.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';
import type { PlanBoard } from './plan-board.svelte.ts';

/** What went wrong with days and decisions. */
export type ProgressProblem =
  | { readonly about: 'storage'; readonly problem: StorageProblem }
  | { readonly about: 'file'; readonly fileName: string; readonly problem: PlanProblem }
  | { readonly about: 'decision'; readonly problem: PlanProblem | { readonly kind: 'no-stage' } };

/** What came in with a file of training days. */
export interface TakenIn {
  readonly added: number;
  readonly renewed: number;
  readonly keptAsIs: number;
  /** Newer versions of the plan, which wait until they are put in force. */
  readonly waiting: number;
  readonly records: number;
  readonly unreadable: number;
}

/** Days, weeks, trends, proposal and decisions of the plan that is open on the board. */
export class ProgressBoard {
  readonly #board: PlanBoard;
  #days = $state.raw<KeptList<TrainingDay> | null>(null);
  #reviewed = $state.raw<ReviewedDays>(NO_REVIEWED_DAYS);
  #decisions = $state.raw<KeptList<Decision>>({ items: [], unreadable: 0 });
  #moment = $state.raw('');
  #problem = $state.raw<ProgressProblem | null>(null);
  #takenIn = $state.raw<TakenIn | null>(null);
  #deleted = $state.raw<TakenOut | null>(null);
  /** Settles when every file that came so far is taken in. */
  #taking: Promise<void> = Promise.resolve();

  readonly #facts = $derived.by(() => {
    const { plan, versions } = this;
    if (plan === null || this.#days === null) return null;
    const { days } = this.#reviewed;
    const decisions = this.#decisions.items;
    return {
      proposal: propose(plan, days, this.#moment, { versions, decisions }),
      weeks: weekView(versions, days, this.#moment),
      trends: trendOf(days),
      weighed: days.map((day) => weighDay(followedVersion(versions, day) ?? plan, day, this.#moment)),
    };
  });

  constructor(board: PlanBoard) {
    this.#board = board;
  }

  /** The plan that is looked at, its newest version; null where there is none. */
  get plan(): Plan | null {
    return this.#board.open;
  }

  get versions(): readonly Plan[] {
    return this.#board.versions?.items ?? [];
  }

  /** The training days as they are kept, the oldest first; null until they were looked up. */
  get days(): KeptList<TrainingDay> | null {
    return this.#days;
  }

  /** The decisions, the oldest first. */
  get decisions(): KeptList<Decision> {
    return this.#decisions;
  }

  /** What the plan's rules propose after the days so far. */
  get proposal(): Proposal | null {
    return this.#facts?.proposal ?? null;
  }

  get weeks(): readonly Week[] {
    return this.#facts?.weeks ?? [];
  }

  get trends(): readonly Trend[] {
    return this.#facts?.trends ?? [];
  }

  /** What signed reviews corrected, by the day's id: everything is weighed by the corrected figures. */
  get corrections(): ReviewedDays['corrections'] {
    return this.#reviewed.corrections;
  }

  /** Every training day by the rules of the version that it followed, the oldest first. */
  get weighed(): readonly WeighedDay[] {
    return this.#facts?.weighed ?? [];
  }

  get problem(): ProgressProblem | null {
    return this.#problem;
  }

  /** What came in with the last file. */
  get takenIn(): TakenIn | null {
    return this.#takenIn;
  }

  /** True while a day that was deleted can be brought back. */
  get canUndo(): boolean {
    return this.#deleted !== null;
  }

  /** Looks up the days and decisions of a plan; null: of the one that is open. */
  async lookAt(planId: string | null): Promise<void> {
    if (planId !== null) await this.#board.openPlan(planId);
    await this.look();
  }

  /** Looks up the days and decisions of the open plan. */
  async look(): Promise<void> {
    await this.#board.look();
    const { store, moment, reviews, outlines } = this.#board.parts;
    const planId = this.plan?.id;
    this.#moment = moment();
    if (planId === undefined) return;
    const days = this.#valueOf(await store.listDays(planId));
    this.#decisions = this.#valueOf(await store.listDecisions(planId)) ?? this.#decisions;
    if (days === undefined) return;
    const kept = this.#valueOf(await (await reviews()).listReviews());
    this.#reviewed = await reviewedDays(days.items, kept?.items ?? [], outlines);
    this.#days = days;
  }

  /** Records what the therapist decided; going on and stepping back lead to a new version of the plan. */
  async decide(direction: Decision['direction'], reason: string): Promise<boolean> {
    const { plan, proposal } = this;
    if (plan === null) return false;
    const { store, moment, newId } = this.#board.parts;
    const made = decide(plan, proposal, { id: newId(), direction, reason, moment: moment() });
    if (!made.ok) {
      this.#problem = { about: 'decision', problem: made.problem };
      return false;
    }
    const { decision, plan: next } = made.decided;
    // The version first: a decision never names a version that is not kept.
    const isKept =
      this.#valueOf(await store.keepVersion(next)) !== undefined &&
      this.#valueOf(await store.putDecision(decision)) !== undefined;
    await this.look();
    return isKept;
  }

  /** The training days as a file's text, with their session records where these are asked for. */
  async daysText(withRecords: boolean): Promise<string> {
    const { records, moment } = this.#board.parts;
    const days = this.#days?.items ?? [];
    const found: SessionRecord[] = [];
    const ids = days.flatMap(({ exercises }) => exercises.flatMap(({ recordId }) => recordId ?? []));
    for (const id of withRecords ? ids.filter((each, index) => ids.indexOf(each) === index) : []) {
      const loaded = await records.loadSession(id);
      // A record that was deleted here does not keep the days from being handed over.
      if (loaded.ok) found.push(loaded.value);
    }
    const { dayLogText } = await import('../core/export/day-log.ts');
    return dayLogText({ versions: this.versions, days, records: found }, moment());
  }

  /** Takes in a file of training days, after those that are being taken in. What is kept here and tells more stays as it is. */
  takeDays(fileName: string, text: string): Promise<void> {
    this.#taking = this.#taking.then(() => this.#takeFile(fileName, text));
    return this.#taking;
  }

  async #takeFile(fileName: string, text: string): Promise<void> {
    this.#problem = null;
    this.#takenIn = null;
    const { store, records, moment, exchange } = this.#board.parts;
    const { readDayLog } = await import('../core/export/day-log.ts');
    const reading = readDayLog(text);
    if (!reading.ok) {
      this.#problem = { about: 'file', fileName, problem: reading.problem };
      return;
    }
    const { versions, days, records: came, unreadable } = reading.value;
    const taken = { added: 0, renewed: 0, keptAsIs: 0, waiting: 0, records: 0, unreadable };
    const newestBefore = this.#valueOf(await newestVersions(store));
    if (newestBefore === undefined) return;
    const arrival = { fileName, cameAt: moment(), newestBefore };
    const stores = { plans: store, exchange: await exchange() };
    for (const version of versions)
      if (this.#valueOf(await takePlan(version, arrival, stores)) === 'waits') taken.waiting += 1;
    for (const day of days) {
      const merged = this.#valueOf(await store.mergeDay(day));
      if (merged !== undefined) taken[merged === 'kept-as-is' ? 'keptAsIs' : merged] += 1;
    }
    for (const record of came) {
      const kept = await records.importRecord(record);
      if (kept.ok) taken.records += 1;
      else if (kept.problem !== 'already-kept') this.#valueOf(kept);
    }
    this.#takenIn = taken;
    const [first] = days;
    if (first !== undefined) await this.#board.openPlan(first.planId);
    await this.look();
  }

  /** Deletes a training day; its session records stay. It can be brought back until the next deletion. */
  async removeDay(dayId: string): Promise<void> {
    const taken = this.#valueOf(await this.#board.parts.store.takeOutDay(dayId));
    if (taken !== undefined) this.#deleted = taken;
    await this.look();
  }

  /** Brings back the day that was deleted last. */
  async undo(): Promise<void> {
    if (this.#deleted === null) return;
    if (this.#valueOf(await this.#board.parts.store.putBack(this.#deleted)) !== undefined)
      this.#deleted = null;
    await this.look();
  }

  /** Lets go of the day that was deleted last. */
  letGo(): void {
    this.#deleted = null;
  }

  /** Puts what was said about a problem or a file away. */
  dismiss(): void {
    this.#problem = null;
    this.#takenIn = null;
  }

  #valueOf<Value>(stored: Stored<Value>): Value | undefined {
    if (stored.ok) return stored.value;
    this.#problem = { about: 'storage', problem: stored.problem };
    return undefined;
  }
}
