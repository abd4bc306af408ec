import { CONSULT_LIMITS } from './limits.ts';

/** One question and its answer, milliseconds: asked and heard by this side's clock, received and answered by the other's. */
export interface RoundTrip {
  readonly askedMs: number;
  readonly receivedMs: number;
  readonly answeredMs: number;
  readonly heardMs: number;
}

/** The other side's clock minus this side's, and how far off that may be at most, milliseconds. */
export interface ClockOffset {
  readonly offsetMs: number;
  readonly uncertaintyMs: number;
}

/** Remembers a round trip, newest last. One whose times cannot be (less than nothing on the way) is passed over. */
export function addRoundTrip(trips: readonly RoundTrip[], trip: RoundTrip): readonly RoundTrip[] {
  const isPossible = trip.answeredMs >= trip.receivedMs && wayMs(trip) >= 0;
  return isPossible ? [...trips, trip].slice(-CONSULT_LIMITS.clockSamples) : trips;
}

/**
 * The offset by the quickest of the remembered round trips, after RFC 5905, section 8: whatever of the way was longer in one
 * direction is within half of the time on the way. Null before the first.
 */
export function clockOffset(trips: readonly RoundTrip[]): ClockOffset | null {
  const [quickest] = trips.toSorted((a, b) => wayMs(a) - wayMs(b));
  if (quickest === undefined) return null;
  const { askedMs, receivedMs, answeredMs, heardMs } = quickest;
  return {
    offsetMs: (receivedMs - askedMs + (answeredMs - heardMs)) / 2,
    uncertaintyMs: wayMs(quickest) / 2,
  };
}

/** Time on the way there and back, milliseconds. */
function wayMs({ askedMs, receivedMs, answeredMs, heardMs }: RoundTrip): number {
  return heardMs - askedMs - (answeredMs - receivedMs);
}
