import type { ExchangeStore } from '../core/exchange/exchange-store.ts';
import { changePlan } from '../core/plan/change-plan.ts';
import { defaultPlan } from '../core/plan/default-plan.ts';
import { lastFelt, type LastFelt } from '../core/plan/equipment-signs.ts';
import type { Plan } from '../core/plan/plan.ts';
import type { KeptList, PlanListing, PlanStore, TakenOut } from '../core/plan/plan-store.ts';
import type { PlanProblem, PlanReading } from '../core/plan/read-plan.ts';
import { readPlan, readPlanValue } from '../core/plan/read-plan.ts';
import type { ReviewStore } from '../core/review/review-store.ts';
import type { RecordOpener } from '../core/session/record-opener.ts';
import type { SessionStore } from '../core/session/session-store.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';
import { PlanDraft } from './plan-draft.svelte.ts';
import { receivedPlan, type ReceivedPlan } from './received-plan.ts';

/** What went wrong: with keeping, or with a file or link that was to be read. */
export type BoardProblem =
  | { readonly about: 'storage'; readonly problem: StorageProblem }
  /** fileName: null for a link. */
  | { readonly about: 'document'; readonly fileName: string | null; readonly problem: PlanProblem }
  /** What was written is no plan by the rules; the form keeps to them, so this should not be seen. */
  | { readonly about: 'draft'; readonly problem: PlanProblem };

/** What the board needs from outside. */
export interface BoardParts {
  readonly store: PlanStore;
  /** Session records, which training days are handed over with. */
  readonly records: Pick<SessionStore, 'loadSession' | 'importRecord'>;
  /** Opens records, and their reviews: signed corrections count in the figures of training days. */
  readonly outlines: RecordOpener;
  readonly reviews: () => Promise<Pick<ReviewStore, 'listReviews'>>;
  /** Where newer versions wait that come with training days. */
  readonly exchange: () => Promise<ExchangeStore>;
  /** The moment of the wall clock, with offset. */
  readonly moment: () => string;
  readonly newId: () => string;
  /** Told when sessions here follow another plan or version: whoever went on to the first screen meanwhile sees it there. */
  readonly onfollowed?: () => void;
}

/** Who a plan that stands ready is for, until the therapist has said. */
const SOMEBODY = { label: 'New plan', treatedSide: 'right', statureCm: 175, bodyMassKg: null } as const;

/** The plans that are kept on this machine: the list, the one that is open, the one that is followed, writing, taking in. */
export class PlanBoard {
  readonly #parts: BoardParts;
  #listings = $state.raw<readonly PlanListing[] | null>(null);
  #followed = $state.raw<Plan | null>(null);
  #openId: string | null = null;
  #versions = $state.raw<KeptList<Plan> | null>(null);
  #draft = $state.raw<PlanDraft | null>(null);
  #felt = $state.raw<LastFelt>({});
  #received = $state.raw<ReceivedPlan | null>(null);
  #deleted = $state.raw<{ readonly label: string; readonly rows: TakenOut } | null>(null);
  #problem = $state.raw<BoardProblem | null>(null);

  constructor(parts: BoardParts) {
    this.#parts = parts;
  }

  /** All kept plans, the last written first; null until they were looked up. */
  get listings(): readonly PlanListing[] | null {
    return this.#listings;
  }

  /** The newest version of the plan that sessions here follow; null where none is followed or before look(). */
  get followed(): Plan | null {
    return this.#followed;
  }

  /** The newest version of the plan that is looked at, or null. */
  get open(): Plan | null {
    return this.#versions?.items.at(-1) ?? null;
  }

  /** All versions of the plan that is looked at, the oldest first. */
  get versions(): KeptList<Plan> | null {
    return this.#versions;
  }

  /** What is being written, or null. */
  get draft(): PlanDraft | null {
    return this.#draft;
  }

  /** Where the last answered set of each exercise of the plan that is being changed was hardest, as felt. */
  get felt(): LastFelt {
    return this.#felt;
  }

  /** A plan that came as a file or link and waits to be confirmed. */
  get received(): ReceivedPlan | null {
    return this.#received;
  }

  /** The label of the plan that was deleted last and can still be brought back. */
  get deletedLabel(): string | null {
    return this.#deleted?.label ?? null;
  }

  get problem(): BoardProblem | null {
    return this.#problem;
  }

  /** True where the browser lets nothing be kept beyond this visit. */
  get lastsThisVisitOnly(): boolean {
    return this.#parts.store.lasts === 'this-visit';
  }

  /** What the board works with, for what works on the open plan's days. */
  get parts(): BoardParts {
    return this.#parts;
  }

  /** Looks up the plans and the one that is followed; opens that one, or the last written, where none is open. */
  async look(): Promise<void> {
    const { store } = this.#parts;
    const [listed, followed, draft] = await Promise.all([store.listPlans(), store.followed(), store.draft()]);
    this.#followed = this.#valueOf(followed) ?? null;
    this.#listings = this.#valueOf(listed) ?? this.#listings;
    const written = this.#valueOf(draft) ?? null;
    if (this.#draft === null && written !== null) await this.#resume(written);
    const ids = this.#listings?.map(({ planId }) => planId) ?? [];
    const readable = this.#listings?.find(({ newest }) => newest !== null)?.planId ?? null;
    if (this.#openId === null || !ids.includes(this.#openId)) this.#openId = this.#followed?.id ?? readable;
    this.#versions =
      this.#openId === null ? null : (this.#valueOf(await store.versionsOf(this.#openId)) ?? null);
  }

  /** Looks at a plan. */
  async openPlan(planId: string): Promise<void> {
    this.#openId = planId;
    await this.look();
  }

  /** From now on sessions here follow this plan; null: none. */
  async follow(planId: string | null): Promise<void> {
    this.#valueOf(await this.#parts.store.follow(planId));
    this.#parts.onfollowed?.();
    await this.look();
  }

  /** The moment of the wall clock, for what is answered and decided while a plan is written. */
  moment(): string {
    return this.#parts.moment();
  }

  /** Takes up what was being written when the page was closed, else the plan that stands ready. */
  async resumeOrBegin(): Promise<void> {
    await this.look();
    if (this.#draft === null) this.beginNew();
    const before = this.#draft?.before ?? null;
    const days = before === null ? undefined : this.#valueOf(await this.#parts.store.listDays(before.id));
    this.#felt = lastFelt(days?.items ?? []);
  }

  /** Begins a plan from the one that stands ready. */
  beginNew(): void {
    const { moment, newId } = this.#parts;
    this.#write(defaultPlan(SOMEBODY, moment(), newId()), null);
  }

  /** Begins a change of a plan. */
  beginChange(plan: Plan): void {
    this.#write(plan, plan);
  }

  /** Saves what was written as a version, with the reason. Gives false where that was not possible. */
  async saveDraft(reason: string): Promise<boolean> {
    const draft = this.#draft;
    if (draft === null) return false;
    const moment = this.#parts.moment();
    const made: PlanReading =
      draft.before === null
        ? readPlanValue({ ...draft.plan, writtenAt: moment, reason })
        : changePlan(await this.#newest(draft.before), draft.plan, moment, reason);
    if (!made.ok) {
      this.#problem = { about: 'draft', problem: made.problem };
      return false;
    }
    if (!(await this.#keep(made.plan))) return false;
    await this.dropDraft();
    return true;
  }

  /** Lets go of what is being written. */
  async dropDraft(): Promise<void> {
    this.#draft = null;
    this.#valueOf(await this.#parts.store.keepDraft(null));
  }

  /** Reads the text of a plan file, to be confirmed. */
  async takeFile(fileName: string, text: string): Promise<void> {
    await this.#take(fileName, readPlan(text));
  }

  /** Reads a plan out of an address, to be confirmed. */
  async takeLink(link: string): Promise<void> {
    const { planOfFragment } = await import('../core/plan/plan-link.ts');
    await this.#take(null, planOfFragment(link));
  }

  /** Keeps the plan that came, and follows it where that is asked. */
  async keepReceived(isFollowed: boolean): Promise<boolean> {
    if (this.#received === null) return false;
    const { plan, standing } = this.#received;
    // Another plan with the same number stays what it is: this one becomes a plan of its own.
    const kept = standing === 'other-content' ? { ...plan, id: this.#parts.newId(), version: 1 } : plan;
    if (!(await this.#keep(kept))) return false;
    this.#received = null;
    if (isFollowed) await this.follow(kept.id);
    return true;
  }

  /** Lets go of the plan that came. */
  dropReceived(): void {
    this.#received = null;
  }

  /** Deletes a plan with its days and decisions; it can be brought back until the next deletion or the end of the visit. */
  async remove({ planId, newest }: PlanListing): Promise<void> {
    const rows = this.#valueOf(await this.#parts.store.takeOutPlan(planId));
    if (rows !== undefined) this.#deleted = { label: newest?.person.label ?? 'a plan', rows };
    await this.look();
  }

  /** Brings back what was deleted last. */
  async undoRemove(): Promise<void> {
    if (this.#deleted === null) return;
    const { rows } = this.#deleted;
    if (this.#valueOf(await this.#parts.store.putBack(rows)) !== undefined) this.#deleted = null;
    this.#openId = rows.plans[0]?.planId ?? this.#openId;
    await this.look();
  }

  /** Lets go of what was deleted last. */
  letGo(): void {
    this.#deleted = null;
  }

  /** Puts a sentence about a problem away. */
  dismiss(): void {
    this.#problem = null;
  }

  async #take(fileName: string | null, reading: PlanReading): Promise<void> {
    this.#received = null;
    this.#problem = reading.ok ? null : { about: 'document', fileName, problem: reading.problem };
    if (reading.ok) this.#received = await receivedPlan(reading.plan, fileName, this.#parts.store);
  }

  async #keep(plan: Plan): Promise<boolean> {
    const kept = this.#valueOf(await this.#parts.store.keepVersion(plan));
    if (kept === undefined) return false;
    if (plan.id === this.#followed?.id) this.#parts.onfollowed?.();
    await this.openPlan(plan.id);
    return true;
  }

  /** The newest kept version: a further one may have come from elsewhere while this one was changed. */
  async #newest(plan: Plan): Promise<Plan> {
    const versions = this.#valueOf(await this.#parts.store.versionsOf(plan.id));
    return versions?.items.at(-1) ?? plan;
  }

  #write(plan: Plan, before: Plan | null): void {
    this.#draft = new PlanDraft(plan, before, (written) => {
      void this.#parts.store.keepDraft(written).then((kept) => this.#valueOf(kept));
    });
  }

  /** Goes on with a plan that was being written when the page was closed. */
  async #resume(written: Plan): Promise<void> {
    const before = await this.#parts.store.loadVersion(written.id, written.version);
    this.#write(written, before.ok ? before.value : null);
  }

  /** The value, or undefined with the problem told. */
  #valueOf<Value>(stored: Stored<Value>): Value | undefined {
    if (stored.ok) return stored.value;
    this.#problem = { about: 'storage', problem: stored.problem };
    return undefined;
  }
}
