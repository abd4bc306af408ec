import { isMeasured, type Measured } from '../kinematics/measured.ts';
import type { RowIndicators } from './judgement.ts';
import { handClosing } from './row-indicators.ts';
import type { Thresholds } from './thresholds.ts';

/**
 * Shoulder-dominant or not, by one rule: the shoulder does at least thresholds.shoulderWorkShare of the work of lifting.
 * A smaller contribution is normal and is not flagged. Null when the share was not measured, or when its interval covers
 * the whole grey zone (workShareGreyZone wide, about the threshold): then nothing is flagged, and nothing is cleared.
 */
export function isShoulderDominant(workShare: Measured, thresholds: Thresholds): boolean | null {
  if (!isMeasured(workShare)) return null;
  const { shoulderWorkShare, workShareGreyZone } = thresholds;
  const [from, to] = [shoulderWorkShare - workShareGreyZone / 2, shoulderWorkShare + workShareGreyZone / 2];
  if (workShare.low <= from && workShare.high >= to) return null;
  return workShare.value >= shoulderWorkShare;
}

/** What of the movement is as in a row. It is shown as evidence beside the share of the work, and decides nothing. */
export interface RowSigns {
  readonly shoulderShare: boolean;
  readonly elbowBehindTrunk: boolean;
  readonly handClosing: boolean;
}

/**
 * Which signs of a row a repetition shows; none that was not measured.
 * - Share of motion: from thresholds.shoulderShare on, if the interval lies above what is normal in a strict curl.
 * - Elbow behind the trunk: from its threshold on, if the interval lies behind the trunk.
 * - Hand: it came nearer to the trunk line by handClosingUpperArms, and the upper arm did not keep its angle. An elbow
 *   that bends in front of the body brings the hand nearer as well, and that is a curl.
 */
export function rowSigns(indicators: RowIndicators, thresholds: Thresholds): RowSigns {
  const shoulderShare = isSurelyFrom(
    indicators.shoulderShare,
    thresholds.shoulderShare,
    thresholds.shoulderShareNormal,
  );
  const closing = handClosing(indicators);
  return {
    shoulderShare,
    elbowBehindTrunk: isSurelyFrom(
      indicators.elbowBehindTrunkUpperArms,
      thresholds.elbowBehindTrunkUpperArms,
      0,
    ),
    handClosing: shoulderShare && closing !== null && closing >= thresholds.handClosingUpperArms,
  };
}

function isSurelyFrom(measured: Measured, threshold: number, normal: number): boolean {
  return isMeasured(measured) && measured.value >= threshold && measured.low > normal;
}
