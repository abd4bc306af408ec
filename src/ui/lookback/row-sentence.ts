import type { Repetition, RowIndicators } from '../../core/exercises/judgement.ts';
import { handClosing } from '../../core/exercises/row-indicators.ts';
import { rowSigns, type RowSigns } from '../../core/exercises/row-rule.ts';
import type { Thresholds } from '../../core/exercises/thresholds.ts';
import { FORMS, measuredWords, reasonWords, valueWords } from '../../core/feedback/measure-words.ts';
import { isMeasured, valueOf } from '../../core/kinematics/measured.ts';

/** The signs of a row in the order in which they are told. */
const SIGNS: readonly (keyof RowSigns)[] = ['shoulderShare', 'elbowBehindTrunk', 'handClosing'];

/**
 * Why a repetition was judged as it was, in one plain sentence with the figures: the share of the work that decides, by
 * the record's own threshold, and the signs of a row in the movement. number counts from 1.
 */
export function rowSentence(number: number, repetition: Repetition, thresholds: Thresholds): string {
  const { row, shoulderDominant } = repetition;
  if (row === null)
    return `Repetition ${number} was not judged: shoulder, elbow, hand and trunk were not measured.`;
  const { shoulderWorkShare } = row;
  if (!isMeasured(shoulderWorkShare))
    return `Repetition ${number} was not judged: the shoulder’s share of the work was not measured (${reasonWords(shoulderWorkShare.notMeasured)}).`;
  const limit = shareWords(thresholds.shoulderWorkShare);
  const work = `the shoulder did ${measuredWords(shoulderWorkShare, FORMS.share)} of the work of lifting`;
  if (shoulderDominant === null)
    return `Repetition ${number} was not judged: ${work}, which may lie on either side of ${limit}.`;
  const signs = rowSigns(row, thresholds);
  const told = SIGNS.filter((name) => signs[name]).map((name) => signWords(name, row));
  const seen = told.length === 0 ? '' : ` Seen besides: ${listed(told)}.`;
  return shoulderDominant
    ? `Repetition ${number} was judged shoulder-dominant: ${work} (${limit} or more).${seen}`
    : `Repetition ${number} was judged a curl: ${work} (under ${limit}).${seen}`;
}

function signWords(name: keyof RowSigns, row: RowIndicators): string {
  switch (name) {
    case 'shoulderShare':
      return `the shoulder made ${shareWords(valueOf(row.shoulderShare))} of the motion`;
    case 'elbowBehindTrunk':
      return `the elbow went ${armLengths(valueOf(row.elbowBehindTrunkUpperArms))} behind the trunk`;
    case 'handClosing':
      return `the hand came ${armLengths(handClosing(row))} nearer to the trunk line`;
  }
}

function shareWords(share: number | null): string {
  return share === null ? 'an unknown part' : valueWords(share, FORMS.share);
}

function armLengths(value: number | null): string {
  return value === null ? 'far' : valueWords(value, FORMS.upperArms);
}

/** "a", "a and b", "a, b and c". */
function listed(parts: readonly string[]): string {
  const last = parts.at(-1) ?? '';
  return parts.length < 2 ? last : `${parts.slice(0, -1).join(', ')} and ${last}`;
}
