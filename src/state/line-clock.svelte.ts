import { addRoundTrip, clockOffset, type ClockOffset, type RoundTrip } from '../core/consult/clock-offset.ts';
import type { RecordMessage } from '../core/consult/messages.ts';

type Ask = Extract<RecordMessage, { kind: 'clock-ask' }>;
type Answer = Extract<RecordMessage, { kind: 'clock-answer' }>;

/** The other side's clock against this one's, from round trips. */
export class LineClock {
  readonly #nowMs: () => number;
  #trips: readonly RoundTrip[] = [];
  #offset = $state.raw<ClockOffset | null>(null);

  constructor(nowMs: () => number) {
    this.#nowMs = nowMs;
  }

  get offset(): ClockOffset | null {
    return this.#offset;
  }

  /** Another link: the other side's clock may be another one. */
  forget(): void {
    this.#trips = [];
    this.#offset = null;
  }

  ask(): Ask {
    return { kind: 'clock-ask', askedMs: this.#nowMs() };
  }

  answer({ askedMs }: Ask): Answer {
    const nowMs = this.#nowMs();
    return { kind: 'clock-answer', askedMs, receivedMs: nowMs, answeredMs: nowMs };
  }

  take(answer: Answer): void {
    this.#trips = addRoundTrip(this.#trips, { ...answer, heardMs: this.#nowMs() });
    this.#offset = clockOffset(this.#trips);
  }

  /** Milliseconds since a moment of the other side's clock; null before it is known. */
  ageMs(otherMs: number): number | null {
    return this.#offset === null ? null : this.#nowMs() - (otherMs - this.#offset.offsetMs);
  }
}
