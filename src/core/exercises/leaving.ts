/**
 * After so much rest, seconds, a person who was at work has left the position, and a set of a plan ends by itself: a hold
 * as soon as its time out of the range ends it in the record (holdSeparationSeconds), repetitions after a pause that
 * nobody makes within a set. Common practice, no source.
 */
export const LEAVING_SECONDS = { hold: 5, repetitions: 10 } as const;
