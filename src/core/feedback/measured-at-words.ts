import { mayMeasureThere } from '../consult/measured-at.ts';
import type { Consent, ConsultSide } from '../consult/messages.ts';
import { FIT_LIMITS } from '../pose/fit-limits.ts';

/** What figures are worth of which too few come; null where enough do. rateHz: measured pictures a second, null before it is known. */
export function fewFiguresSentence(at: ConsultSide, rateHz: number | null): string | null {
  if (rateHz === null || rateHz >= FIT_LIMITS.leastRateHz) return null;
  const why =
    at === 'patient'
      ? 'The patient’s machine is too slow, or the line is poor.'
      : 'Too few come over the line, or your machine is too slow.';
  return `Only ${(Math.floor(10 * rateHz) / 10).toFixed(1)} measured pictures a second come; ${FIT_LIMITS.leastRateHz} are needed to judge a set. ${why} Counts and times can be wrong, angles of slow movements are not; the record says how many were measured.`;
}

/** Why the therapist's machine is offered to measure: said where the patient's is too slow by the speed check. */
export const TOO_SLOW_THERE = `The patient’s machine measures fewer than ${FIT_LIMITS.leastRateHz} pictures a second, too few to judge a set. Your machine can measure the picture that it receives instead.`;

/** What is measured of a received picture of this size, and what it is worth. */
export function measuredHereSentence({
  widthPx,
  heightPx,
}: {
  readonly widthPx: number;
  readonly heightPx: number;
}): string {
  return `Measured on your machine, from the picture as it is received: ${widthPx} × ${heightPx} pixels. The video line leaves less of it than the camera gave, so angles are less sure than on the patient’s machine and quick movements can be missed; by how much depends on the line and was not checked against truth. The record says where it was measured.`;
}

/** What the therapist's machine lacks to measure; null where it lacks nothing. */
export function cannotMeasureHere(consent: Consent): string | null {
  return mayMeasureThere(consent)
    ? null
    : 'Your machine can measure the received picture only where your patient agrees to send picture, measured figures and record.';
}

/** Where a set that is cut off by the line stands, for each side. */
export function lineDownSentence(side: ConsultSide, at: ConsultSide): string {
  if (side === 'therapist')
    return at === 'patient'
      ? 'The line is down. The set goes on at the patient’s machine and is recorded there. What you ask now is passed on when the line is back; cues that come too late are not said. If it does not come back, make a new invitation below: what happened stays.'
      : 'The line is down, and the picture that you measured with it. A set that ran has ended with what was measured until then; nothing after it was. If the line does not come back, make a new invitation below: what happened stays.';
  return at === 'patient'
    ? 'The line to your therapist is down. A set that runs goes on and is recorded here. End it if you are unsure.'
    : 'The line to your therapist is down, and nothing is measured now: a set that ran has ended. Stop, and rest.';
}
