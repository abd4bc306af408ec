import { askedSets, type AskedSet } from '../core/plan/asked-done.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';
import type { TrainingDay } from '../core/plan/training-day.ts';
import {
  changedReview,
  countingReview,
  followingReview,
  newReview,
  signedReview,
  withWithdrawn,
  type ReviewChange,
} from '../core/review/change-review.ts';
import { correctedDay } from '../core/review/corrected-day.ts';
import { correctedSession, type CorrectedSession } from '../core/review/corrected-session.ts';
import type { Correction, ReviewDocument } from '../core/review/review-document.ts';
import type { ReviewStore } from '../core/review/review-store.ts';
import { MOST_PHRASES } from '../core/session/preferences.ts';
import type { RecordOutline } from '../core/session/record-opener.ts';
import type { StorageProblem } from '../core/stored.ts';
import type { Settings } from './settings.svelte.ts';

/** What a review needs from outside. */
export interface ReviewDeskParts {
  readonly store: ReviewStore;
  readonly plans: Pick<PlanStore, 'loadVersion' | 'loadDay'>;
  readonly settings: Settings;
  /** The moment of the wall clock with its offset. */
  readonly moment: () => string;
  readonly newId: () => string;
}

/** What was asked of the session and how it was felt, by the plan and the training day that it belongs to. */
export interface SessionContext {
  readonly day: TrainingDay;
  /** What was asked of each of the record's sets, in order. */
  readonly asked: readonly AskedSet[];
  /** Sets whose correction the day's figures could not follow. */
  readonly unmatchedSets: number;
}

/** What can be taken back: in words what was done, and how. */
interface Undo {
  readonly sentence: string;
  readonly back: ReviewChange;
}

/**
 * The review of the session that is looked at: what was corrected, noted, drawn, measured, answered and signed. Every
 * change is kept at once. The record itself never changes.
 */
export class ReviewDesk {
  readonly #parts: ReviewDeskParts;
  #outline = $state.raw<RecordOutline | null>(null);
  #reviews = $state.raw<readonly ReviewDocument[]>([]);
  #unreadable = $state(0);
  #problem = $state.raw<StorageProblem | null>(null);
  #undo = $state.raw<Undo | null>(null);
  #kept = $state.raw<Omit<SessionContext, 'unmatchedSets'> | null>(null);
  #asked = 0;
  /** True while a therapist reviews: the bench stands open, also at the next session. */
  isOpen = $state(false);
  /** A note that is being written. */
  noteDraft = $state('');
  /** Writes one after the other, so that a later state is never written over by an earlier one. */
  #writing: Promise<void> = Promise.resolve();

  readonly #review = $derived(countingReview(this.#reviews));
  readonly #corrected = $derived(
    this.#outline === null ? null : correctedSession(this.#outline, this.#review),
  );

  constructor(parts: ReviewDeskParts) {
    this.#parts = parts;
  }

  /** The review that counts; null while nobody has begun one. */
  get review(): ReviewDocument | null {
    return this.#review;
  }

  /** The review that this one follows, where it is kept here; null without. */
  get before(): ReviewDocument | null {
    return this.#reviews.find(({ id }) => id === this.#review?.follows) ?? null;
  }

  /** What other programs are told: the signed review while a further one is being written, else the one that counts. */
  get holding(): ReviewDocument | null {
    return this.isSigned ? this.#review : (this.before ?? this.#review);
  }

  /** Reviews of this session that are kept and cannot be read. */
  get unreadable(): number {
    return this.#unreadable;
  }

  /** True where the review is signed and can only be followed by a new one. */
  get isSigned(): boolean {
    return this.#review !== null && this.#review.signOff !== null;
  }

  /** True where this machine has only the copy for the patient, or the review is signed. */
  get isClosed(): boolean {
    return this.isSigned || this.#review?.scope === 'for-patient';
  }

  /** The session as it stands after the review; null until one is open. */
  get corrected(): CorrectedSession | null {
    return this.#corrected;
  }

  /** What was asked and felt, with the figures as they stand after the review; null without a plan. */
  get context(): SessionContext | null {
    const [kept, outline, corrected] = [this.#kept, this.#outline, this.#corrected];
    if (kept === null || outline === null || corrected === null) return null;
    const { day, unmatchedSets } = correctedDay(kept.day, outline, corrected);
    return { day, asked: kept.asked, unmatchedSets };
  }

  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** What was done last, in words, and can be taken back. */
  get undoSentence(): string | null {
    return this.#undo?.sentence ?? null;
  }

  get phrases(): readonly string[] {
    return this.#parts.settings.now.phrases;
  }

  get signName(): string {
    return this.#parts.settings.now.signName;
  }

  /** Turns to a session; one that is asked for later wins. */
  async open(outline: RecordOutline): Promise<void> {
    this.#asked += 1;
    const asked = this.#asked;
    this.#outline = null;
    this.#reviews = [];
    this.#unreadable = 0;
    this.#undo = null;
    this.noteDraft = '';
    this.#kept = null;
    this.#problem = null;
    const found = await this.#parts.store.reviewsOf(outline.id);
    const kept = await this.#contextOf(outline);
    if (this.#asked !== asked) return;
    if (found.ok) {
      this.#reviews = found.value.items;
      this.#unreadable = found.value.unreadable;
    } else this.#problem = found.problem;
    this.#kept = kept;
    this.#outline = outline;
  }

  async #contextOf(outline: RecordOutline): Promise<Omit<SessionContext, 'unmatchedSets'> | null> {
    const { plan: followed } = outline;
    if (followed === null) return null;
    const day = await this.#parts.plans.loadDay(followed.dayId);
    if (!day.ok) return null;
    const version = await this.#parts.plans.loadVersion(followed.planId, followed.planVersion);
    const planned = version.ok
      ? version.value.stages
          .find(({ key }) => key === followed.stageKey)
          ?.exercises.find(({ key }) => key === followed.exerciseKey)
      : undefined;
    // An exercise that was interrupted goes on in another record: its sets come after those of the first.
    const before = day.value.exercises
      .filter(({ exerciseKey }) => exerciseKey === followed.exerciseKey)
      .flatMap(({ recordId, sets }) => sets.map(() => recordId))
      .indexOf(outline.id);
    return {
      day: day.value,
      asked: planned === undefined ? [] : askedSets(planned).slice(Math.max(0, before)),
    };
  }

  /** A new id for a part of the review. */
  newId(): string {
    return this.#parts.newId();
  }

  /** The moment, as the review keeps it. */
  moment(): string {
    return this.#parts.moment();
  }

  /**
   * Changes the review, which is begun when there is none yet, and keeps it.
   * @param sentence - what was done, for taking it back; null for what needs no taking back
   */
  change(change: (review: ReviewDocument) => ReviewChange, sentence: string | null): void {
    const review = this.#begun();
    const made = change(review);
    this.#undo = sentence === null ? null : { sentence, back: partsOf(review, made) };
    this.#keep(changedReview(review, made, this.moment()));
  }

  /** Adds a correction; taken back, it is withdrawn and kept. */
  correct(correction: Omit<Correction, 'id' | 'at' | 'withdrawnAt'>, sentence: string): void {
    const added: Correction = { ...correction, id: this.newId(), at: this.moment(), withdrawnAt: null };
    this.change(({ corrections }) => ({ corrections: [...corrections, added] }), null);
    const { corrections } = this.#begun();
    this.#undo = {
      sentence,
      back: { corrections: withWithdrawn(corrections, added.id, this.moment()) },
    };
  }

  /** Withdraws a correction, and what stands on it. */
  withdraw(correctionId: string): void {
    this.change(
      ({ corrections }) => ({ corrections: withWithdrawn(corrections, correctionId, this.moment()) }),
      'The correction is withdrawn.',
    );
  }

  /** Takes back what was done last. */
  undo(): void {
    const undo = this.#undo;
    if (undo === null) return;
    this.#undo = null;
    this.#keep(changedReview(this.#begun(), undo.back, this.moment()));
  }

  /** Keeps what was done last. */
  letGo(): void {
    this.#undo = null;
  }

  /** Signs the review; from then on it does not change. */
  sign(name: string): void {
    const signed = signedReview(this.#begun(), name, this.moment());
    this.#parts.settings.change({ signName: name });
    this.#undo = null;
    this.#keep(signed);
  }

  /** Begins a new review that follows the signed one. */
  follow(): void {
    const { review } = this;
    if (review?.signOff) this.#keep(followingReview(review, this.newId(), this.moment()));
  }

  /** Keeps a phrase of one's own; one that is there already stays where it is. */
  addPhrase(phrase: string): void {
    const { phrases } = this;
    if (phrase === '' || phrases.includes(phrase)) return;
    this.#parts.settings.change({ phrases: [...phrases, phrase].slice(-MOST_PHRASES) });
  }

  removePhrase(phrase: string): void {
    this.#parts.settings.change({ phrases: this.phrases.filter((kept) => kept !== phrase) });
  }

  #begun(): ReviewDocument {
    if (this.#outline === null) throw new Error('ReviewDesk: no session is open.');
    return this.#review ?? newReview(this.#outline, this.newId(), this.moment());
  }

  #keep(review: ReviewDocument): void {
    this.#reviews = [...this.#reviews.filter(({ id }) => id !== review.id), review];
    this.#writing = this.#writing.then(async () => {
      const kept = await this.#parts.store.keepReview(review);
      this.#problem = kept.ok ? null : kept.problem;
    });
  }
}

/** What the changed parts were before. */
function partsOf(review: ReviewDocument, change: ReviewChange): ReviewChange {
  const before: Record<keyof ReviewChange, unknown> = review;
  return Object.fromEntries(Object.entries(before).filter(([name]) => name in change));
}
