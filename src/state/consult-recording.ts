import { keepParcel } from '../core/consult/keep-parcel.ts';
import { readLeft, type LeftSessions } from '../core/consult/left-session.ts';
import type { Parcel } from '../core/consult/parcel.ts';
import { takeUpLeft } from '../core/consult/take-up-left.ts';
import type { Stores } from '../core/exchange/take-item.ts';
import { changedReview, newReview } from '../core/review/change-review.ts';
import type { ReviewDocument } from '../core/review/review-document.ts';
import { outlineOf } from '../core/session/record-opener.ts';
import type { SessionRecord } from '../core/session/session-record.ts';
import type { LiveSession } from './live-session.svelte.ts';
import type { ParcelSending } from './parcel-sending.svelte.ts';

/** Notes that a review may hold. */
const MOST_NOTES = 300;

type Note = ReviewDocument['notes'][number];

interface ConsultRecordingParts {
  readonly live: LiveSession;
  readonly loadStores: () => Promise<Stores>;
  readonly left: LeftSessions;
  readonly moment: () => string;
  readonly newId: () => string;
  readonly sending: ParcelSending;
  /** The consult that the page is in; null before the first link. */
  readonly consultId: () => string | null;
}

/**
 * What is kept of a consult beside the record of its session: what was asked, said and answered, tied to the moments of the sets, as a review
 * that nobody has signed. It is kept here, and where the patient agrees it goes to the therapist's side with the record.
 */
export class ConsultRecording {
  readonly #parts: ConsultRecordingParts;
  #notes: readonly Note[] = [];
  #reviewId: string;
  #begunAt: string;
  /** Sessions of this very page. */
  readonly #own = new Set<string>();
  #takingUp: Promise<void> = Promise.resolve();
  /** Whether the other side gets what is recorded. */
  isPassedOn = false;

  constructor(parts: ConsultRecordingParts) {
    this.#parts = parts;
    this.#reviewId = parts.newId();
    this.#begunAt = parts.moment();
  }

  /** Notes what happened, at the moment of the set that runs. */
  note(text: string): void {
    const { live, moment, newId } = this.#parts;
    const timeSeconds = live.readout.latest?.timeSeconds ?? null;
    const isInSet = live.stage === 'measuring' && timeSeconds !== null && timeSeconds >= 0;
    const place = isInSet ? { setIndex: live.keeping.setCount - 1, timeSeconds } : null;
    this.#notes = [...this.#notes, { id: newId(), place, text, at: moment() }].slice(-MOST_NOTES);
    this.keepNotes();
  }

  /** Keeps what was noted with the session that runs, so that it outlives the page. */
  keepNotes(): void {
    const consultId = this.#parts.consultId();
    const { sessionId } = this.#parts.live.keeping;
    if (sessionId === null || consultId === null) return;
    this.#own.add(sessionId);
    const [reviewId, begunAt, changedAt] = [this.#reviewId, this.#begunAt, this.#parts.moment()];
    this.#parts.left.save({ consultId, sessionId, reviewId, begunAt, changedAt, notes: [...this.#notes] });
  }

  /** A set was judged, or something about it answered: its newest state is passed on. */
  async passOn(): Promise<void> {
    if (!this.isPassedOn) return;
    const record = await this.#parts.live.keeping.record();
    if (record !== null) this.#parts.sending.pass(this.#parcelOf(record), false);
  }

  /** The session has ended and is kept here: what was said in it is kept with it, and all of it is passed on. */
  async sessionEnded(sessionId: string, isLast: boolean): Promise<void> {
    const stores = await this.#parts.loadStores();
    const kept = await stores.sessions.loadSession(sessionId);
    if (!kept.ok) return;
    const parcel = this.#parcelOf(kept.value);
    const isKept = await keepParcel(parcel, stores, this.#parts.moment());
    if (isKept) this.#parts.left.forget(sessionId);
    if (this.isPassedOn) this.#parts.sending.pass(parcel, isLast);
    this.#notes = [];
    this.#reviewId = this.#parts.newId();
    this.#begunAt = this.#parts.moment();
  }

  /**
   * Sessions that broke off because their page was lost: each is ended, and what was said in it is kept with it. Those of this consult are
   * passed on where the patient agrees to it.
   */
  takeUpLeft(): Promise<void> {
    return (this.#takingUp = this.#takingUp.then(() => this.#takeUpAll()));
  }

  async #takeUpAll(): Promise<void> {
    const left = readLeft(this.#parts.left.list()).filter(({ sessionId }) => !this.#own.has(sessionId));
    if (left.length === 0) return;
    const stores = await this.#parts.loadStores();
    for (const one of left) {
      const taken = await takeUpLeft(one, stores, this.#parts.moment());
      const isOfThis = one.consultId === this.#parts.consultId();
      if (taken === 'later') continue;
      // Without consent it stays here, and may be agreed to later in the same consult.
      if (taken !== 'gone' && isOfThis && !this.isPassedOn) continue;
      if (taken !== 'gone' && isOfThis) this.#parts.sending.pass(taken, false);
      this.#parts.left.forget(one.sessionId);
    }
  }

  #parcelOf(record: SessionRecord): Parcel {
    const begun = newReview(outlineOf(record), this.#reviewId, this.#begunAt);
    return { record, review: changedReview(begun, { notes: [...this.#notes] }, this.#parts.moment()) };
  }
}
