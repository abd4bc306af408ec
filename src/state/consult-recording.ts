import { keepParcel } from '../core/consult/keep-parcel.ts';
import type { Parcel } from '../core/consult/parcel.ts';
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
  readonly moment: () => string;
  readonly newId: () => string;
  readonly sending: ParcelSending;
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
    await keepParcel(parcel, stores, this.#parts.moment());
    if (this.isPassedOn) this.#parts.sending.pass(parcel, isLast);
    this.#notes = [];
    this.#reviewId = this.#parts.newId();
    this.#begunAt = this.#parts.moment();
  }

  #parcelOf(record: SessionRecord): Parcel {
    const begun = newReview(outlineOf(record), this.#reviewId, this.#begunAt);
    return { record, review: changedReview(begun, { notes: [...this.#notes] }, this.#parts.moment()) };
  }
}
