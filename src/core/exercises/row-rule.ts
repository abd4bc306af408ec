import { isMeasured, type Measured } from '../kinematics/measured.ts';
import type { RowIndicators } from './judgement.ts';
import { handClosing } from './row-indicators.ts';
import type { Thresholds } from './thresholds.ts';

/** What one indicator says: a row, no row, or nothing because it was not measured or its interval is too wide. */
type RowVote = 'row' | 'curl' | 'unknown';

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
 * - Moment: a row when the elbow's share stays below its threshold however the hand force may be tilted, a curl when it
 *   stays above; between, it says nothing, because the direction of the force is not known.
 * - Hand: a row when it came nearer to the trunk line by handClosingUpperArms and the upper arm did not keep its angle.
 *   An elbow that bends in front of the body brings the hand nearer as well, and that is a curl.
 */
export function rowVotes(indicators: RowIndicators, thresholds: Thresholds): RowVotes {
  const shoulderShare = sureVote(
    indicators.shoulderShare,
    thresholds.shoulderShare,
    thresholds.shoulderShareNormal,
  );
  return {
    shoulderShare,
    elbowBehindTrunk: sureVote(indicators.elbowBehindTrunkUpperArms, thresholds.elbowBehindTrunkUpperArms, 0),
    elbowMoment: momentVote(indicators, thresholds),
    handClosing: closingVote(handClosing(indicators), shoulderShare, thresholds),
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
  const { elbowMomentShareTiltedLow: low, elbowMomentShareTiltedHigh: high } = indicators;
  if (!isMeasured(low) || !isMeasured(high)) return 'unknown';
  if (high.value < thresholds.elbowMomentShare) return 'row';
  return low.value >= thresholds.elbowMomentShare ? 'curl' : 'unknown';
}

function closingVote(closing: number | null, shoulderShare: RowVote, thresholds: Thresholds): RowVote {
  if (shoulderShare === 'curl') return 'curl';
  if (closing === null) return 'unknown';
  return closing >= thresholds.handClosingUpperArms ? shoulderShare : 'curl';
}
