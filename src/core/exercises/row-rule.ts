import { isMeasured, type Estimate, type Measured } from '../kinematics/measured.ts';
import type { RowIndicators } from './judgement.ts';
import { handClosing } from './row-indicators.ts';
import type { Thresholds } from './thresholds.ts';

/**
 * Shoulder-dominant or not, by one rule: the shoulder does at least thresholds.shoulderWorkShare of the work of lifting.
 * A smaller contribution is normal and is not flagged. The work rests on an assumption about the hands' force, so a
 * movement with all signs of a row (rowSigns) counts one step: what the work leaves open is then shoulder-dominant, and
 * what would be a curl by the work is not cleared. On the developing set every repetition with more than 57 % of the work
 * from the shoulder shows all signs, and none with less than 43 %.
 *
 * Null where neither decides: then nothing is flagged, and nothing is cleared.
 */
export function isShoulderDominant(indicators: RowIndicators, thresholds: Thresholds): boolean | null {
  const { shoulderWorkShare } = indicators;
  if (!isMeasured(shoulderWorkShare)) return null;
  const byWork = isDominantByWork(shoulderWorkShare, thresholds);
  if (byWork === true || !movesAsRow(indicators, thresholds)) return byWork;
  return byWork === null ? true : null;
}

/**
 * What the shoulder's share of the work says alone; null when its interval covers the whole grey zone (workShareGreyZone
 * wide, about the threshold).
 */
export function isDominantByWork(workShare: Estimate, thresholds: Thresholds): boolean | null {
  const { shoulderWorkShare, workShareGreyZone } = thresholds;
  const [from, to] = [shoulderWorkShare - workShareGreyZone / 2, shoulderWorkShare + workShareGreyZone / 2];
  if (workShare.low <= from && workShare.high >= to) return null;
  return workShare.value >= shoulderWorkShare;
}

function movesAsRow(indicators: RowIndicators, thresholds: Thresholds): boolean {
  return Object.values(rowSigns(indicators, thresholds)).every(Boolean);
}

/** What of the movement is as in a row. It is shown as evidence beside the share of the work. */
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
