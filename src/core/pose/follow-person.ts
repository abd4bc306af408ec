import { jumpBetween } from './body-checks.ts';
import { GATE_LIMITS as LIMITS } from './gate-limits.ts';
import type { SidedPose } from './sided-pose.ts';

/** A pose at its time. */
export interface Seen {
  readonly pose: SidedPose;
  readonly timeSeconds: number;
}

/** Following is not sure: since when, since when steady again, and whether several people were about. */
export interface Unsure {
  readonly sinceSeconds: number;
  readonly steadySinceSeconds: number;
  readonly amongPeople: boolean;
}

/** Whether the same person is followed. */
export interface Following {
  readonly unsure: Unsure | null;
  /** True when shoulder and hip jumped together in this picture. */
  readonly jumpedWhole: boolean;
  /** True when following became sure at another place than before: nothing before may be carried on. */
  readonly startsAnew: boolean;
}

const SURE: Following = { unsure: null, jumpedWhole: false, startsAnew: false };

/**
 * Follows one person: after a jump nothing is believed until the landmarks are back where they were, or have been
 * steady for a while at the new place, longer while several people are about.
 * @param last - the picture before, whatever was thought of it
 * @param lastBelieved - the last picture that was believed
 */
export function stepFollowing(
  unsure: Unsure | null,
  now: Seen,
  last: Seen | null,
  lastBelieved: Seen | null,
  people: number | null,
): Following {
  if (last === null || lastBelieved === null) return SURE;
  const { timeSeconds, pose } = now;
  const severalPeople = (people ?? 1) >= 2;
  const stepSeconds = Math.min(timeSeconds - last.timeSeconds, LIMITS.continuitySeconds);
  const jump = jumpBetween(last.pose, pose, stepSeconds);
  if (unsure === null) {
    if (!jump.jumped) return SURE;
    const fresh = { sinceSeconds: timeSeconds, steadySinceSeconds: timeSeconds, amongPeople: severalPeople };
    return { unsure: fresh, jumpedWhole: jump.whole, startsAnew: false };
  }
  const away = timeSeconds - lastBelieved.timeSeconds;
  const wayBack = Math.min(away, LIMITS.resetAfterSeconds);
  if (away <= LIMITS.slipSeconds && !jumpBetween(lastBelieved.pose, pose, wayBack).jumped) return SURE;
  const steadySinceSeconds = jump.jumped ? timeSeconds : unsure.steadySinceSeconds;
  const amongPeople = unsure.amongPeople || severalPeople;
  const needed = amongPeople ? LIMITS.steadySecondsAmongPeople : LIMITS.steadySeconds;
  if (timeSeconds - steadySinceSeconds >= needed) return { ...SURE, startsAnew: true };
  return {
    unsure: { ...unsure, steadySinceSeconds, amongPeople },
    jumpedWhole: jump.whole,
    startsAnew: false,
  };
}
