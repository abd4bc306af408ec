import type { Repetition, RowIndicators } from '../../core/exercises/judgement.ts';
import type { Thresholds } from '../../core/exercises/thresholds.ts';
import { FORMS, valueWords } from '../../core/feedback/measure-words.ts';
import { isMeasured, type Measured } from '../../core/kinematics/measured.ts';

/**
 * Why a repetition was judged as it was, in one plain sentence with the figures. number counts from 1. Which
 * indicators speak for a row is read off the record's own thresholds.
 */
export function rowSentence(number: number, repetition: Repetition, thresholds: Thresholds): string {
  const { row, shoulderDominant } = repetition;
  if (row === null || shoulderDominant === null) {
    return `Repetition ${number} was not judged: too little of shoulder, elbow, hand and trunk was measured.`;
  }
  const signs = signsOfRow(row, thresholds);
  if (shoulderDominant) {
    return `Repetition ${number} was judged shoulder-dominant: ${listed(signs)}.`;
  }
  return signs.length === 0
    ? `Repetition ${number} was judged a curl: none of the indicators speaks for a row.`
    : `Repetition ${number} was judged a curl: ${listed(signs)}, which alone does not make it a row.`;
}

function signsOfRow(row: RowIndicators, thresholds: Thresholds): string[] {
  const signs: string[] = [];
  const above = (measured: Measured, limit: number): number | null =>
    isMeasured(measured) && measured.value >= limit ? measured.value : null;

  const share = above(row.shoulderShare, thresholds.shoulderShare);
  if (share !== null) {
    const limit = valueWords(thresholds.shoulderShare, FORMS.share);
    signs.push(
      `the shoulder made ${valueWords(share, FORMS.share)} of the motion (${limit} or more speaks for a row)`,
    );
  }
  const behind = above(row.elbowBehindTrunkUpperArms, thresholds.elbowBehindTrunkUpperArms);
  if (behind !== null) {
    const limit = thresholds.elbowBehindTrunkUpperArms.toFixed(2);
    signs.push(`the elbow went ${valueWords(behind, FORMS.upperArms)} behind the trunk (from ${limit} on)`);
  }
  if (isMeasured(row.elbowMomentShare) && row.elbowMomentShare.value < thresholds.elbowMomentShare) {
    const value = valueWords(row.elbowMomentShare.value, FORMS.share);
    const limit = valueWords(thresholds.elbowMomentShare, FORMS.share);
    signs.push(`the elbow had ${value} of the moment (under ${limit})`);
  }
  if (isMeasured(row.handToTrunkStartUpperArms) && isMeasured(row.handToTrunkLeastUpperArms)) {
    const closing = row.handToTrunkStartUpperArms.value - row.handToTrunkLeastUpperArms.value;
    if (closing >= thresholds.handClosingUpperArms) {
      const limit = thresholds.handClosingUpperArms.toFixed(2);
      signs.push(
        `the hand came ${valueWords(closing, FORMS.upperArms)} nearer to the trunk line (from ${limit} on)`,
      );
    }
  }
  return signs;
}

/** "a", "a and b", "a, b and c". */
function listed(parts: readonly string[]): string {
  if (parts.length < 2) return parts[0] ?? 'the indicators together speak for a row';
  return `${parts.slice(0, -1).join(', ')} and ${parts.at(-1) ?? ''}`;
}
