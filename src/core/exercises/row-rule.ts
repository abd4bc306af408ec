import { isMeasured, type Measured } from '../kinematics/measured.ts';
import type { RowIndicators } from './judgement.ts';
import { handClosing } from './row-indicators.ts';
import type { Thresholds } from './thresholds.ts';

/** What one indicator says: a row, no row, or nothing because it was not measured or its interval is too wide. */
export type RowVote = 'row' | 'curl' | 'unknown';

/** The votes of the four indicators that decide. */
export interface RowVotes {
  readonly shoulderShare: RowVote;
  readonly elbowBehindTrunk: RowVote;
  readonly elbowMoment: RowVote;
  readonly handClosing: RowVote;
}

/** Share of motion and elbow place tell what the shoulder did; the other two what follows from it. */
const WEIGHTS: Readonly<Record<keyof RowVotes, number>> = {
  shoulderShare: 2,
  elbowBehindTrunk: 2,
  elbowMoment: 1,
  handClosing: 1,
};

/**
 * What each indicator says.
 * - Share of motion: a row from thresholds.shoulderShare on, if the interval lies above what is normal in a strict curl;
 *   above the threshold with an interval that reaches down to the normal it says nothing.
 * - Elbow behind the trunk: a row from its threshold on, if the interval lies behind the trunk.
 * - Moment: a row when the elbow's share is below its threshold, or when the elbow needs no flexors while the shoulder
 *   needs its extensors.
 * - Hand: a row when it came nearer to the trunk line by handClosingUpperArms: in a strict curl trunk and hand are near
 *   each other from the start.
 */
export function rowVotes(indicators: RowIndicators, thresholds: Thresholds): RowVotes {
  const closing = handClosing(indicators);
  return {
    shoulderShare: sureVote(
      indicators.shoulderShare,
      thresholds.shoulderShare,
      thresholds.shoulderShareNormal,
    ),
    elbowBehindTrunk: sureVote(indicators.elbowBehindTrunkUpperArms, thresholds.elbowBehindTrunkUpperArms, 0),
    elbowMoment: momentVote(indicators, thresholds),
    handClosing: closing === null ? 'unknown' : closing >= thresholds.handClosingUpperArms ? 'row' : 'curl',
  };
}

/**
 * Shoulder-dominant or not, by one rule: the votes for a row weigh at least dominanceVotes (3: the share of motion and
 * the elbow's place have 2 each, moment and hand 1 each), and they come from at least two indicators, the share of
 * motion or the elbow's place among them. So no indicator decides alone, moment and hand cannot decide without the
 * shoulder having moved, and a small shoulder contribution, which is normal, gives no vote at all. Null when the
 * indicators that said nothing could have changed the answer: nothing is flagged that was not measured, and nothing is
 * cleared either.
 */
export function isShoulderDominant(votes: RowVotes, thresholds: Thresholds): boolean | null {
  if (carries(votes, (vote) => vote === 'row', thresholds)) return true;
  return carries(votes, (vote) => vote !== 'curl', thresholds) ? null : false;
}

function carries(votes: RowVotes, counts: (vote: RowVote) => boolean, thresholds: Thresholds): boolean {
  const { shoulderShare, elbowBehindTrunk, elbowMoment, handClosing: closing } = votes;
  const [share, behind, moment, hand] = [shoulderShare, elbowBehindTrunk, elbowMoment, closing].map(counts);
  const number = Number(share) + Number(behind) + Number(moment) + Number(hand);
  const weight =
    WEIGHTS.shoulderShare * Number(share) +
    WEIGHTS.elbowBehindTrunk * Number(behind) +
    WEIGHTS.elbowMoment * Number(moment) +
    WEIGHTS.handClosing * Number(hand);
  return (share === true || behind === true) && number >= 2 && weight >= thresholds.dominanceVotes;
}

function sureVote(measured: Measured, threshold: number, normal: number): RowVote {
  if (!isMeasured(measured)) return 'unknown';
  if (measured.value < threshold) return 'curl';
  return measured.low > normal ? 'row' : 'unknown';
}

function momentVote(indicators: RowIndicators, thresholds: Thresholds): RowVote {
  const { elbowMomentShare, elbowMomentSign, shoulderMomentSign } = indicators;
  if (isMeasured(elbowMomentShare)) {
    return elbowMomentShare.value < thresholds.elbowMomentShare ? 'row' : 'curl';
  }
  if (elbowMomentSign === null || shoulderMomentSign === null) return 'unknown';
  return shoulderMomentSign === 'extensor' && elbowMomentSign !== 'flexor' ? 'row' : 'curl';
}
