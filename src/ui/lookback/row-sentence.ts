import type { Repetition, RowIndicators } from '../../core/exercises/judgement.ts';
import { handClosing } from '../../core/exercises/row-indicators.ts';
import { isDominantByWork, rowSigns, type RowSigns } from '../../core/exercises/row-rule.ts';
import type { Thresholds } from '../../core/exercises/thresholds.ts';
import { FORMS, measuredWords, reasonWords, valueWords } from '../../core/feedback/measure-words.ts';
import { isMeasured, valueOf } from '../../core/kinematics/measured.ts';

/** The signs of a row in the order in which they are told. */
const SIGNS: readonly (keyof RowSigns)[] = ['shoulderShare', 'elbowBehindTrunk', 'handClosing'];

/**
 * Why a repetition was judged as it was, in plain words with the figures: the shoulder's share of the work, by the
 * record's own threshold, and the signs of a row in the movement. number counts from 1.
 */
export function rowSentence(number: number, repetition: Repetition, thresholds: Thresholds): string {
  const { row, shoulderDominant } = repetition;
  if (row === null)
    return `Repetition ${number} was not judged: shoulder, elbow, hand and trunk were not measured.`;
  const { shoulderWorkShare } = row;
  const signs = rowSigns(row, thresholds);
  const told = SIGNS.filter((name) => signs[name]).map((name) => signWords(name, row));
  const seen = told.length === 0 ? '' : ` Seen besides: ${listed(told)}.`;
  const judged = `Repetition ${number} was ${verdictWords(shoulderDominant)}`;
  if (!isMeasured(shoulderWorkShare))
    return shoulderDominant === null
      ? `${judged}: the shoulder’s share of the work was not measured (${reasonWords(shoulderWorkShare.notMeasured)}).`
      : `${judged} by an earlier rule, without the shoulder’s share of the work.${seen}`;
  const limit = shareWords(thresholds.shoulderWorkShare);
  const work = `the shoulder did ${measuredWords(shoulderWorkShare, FORMS.share)} of the work of lifting`;
  switch (isDominantByWork(shoulderWorkShare, thresholds)) {
    case true:
      return `${judged}: ${work} (${limit} or more).${seen}`;
    case false:
      return shoulderDominant === null
        ? `${judged}: ${work} (under ${limit}), but the movement was a row’s: ${listed(told)}.`
        : `${judged}: ${work} (under ${limit}).${seen}`;
    case null: {
      const open = `${work}, which may lie on either side of ${limit}`;
      return shoulderDominant === true
        ? `${judged}: ${open}, and the movement was a row’s: ${listed(told)}.`
        : `${judged}: ${open}.${seen}`;
    }
  }
}

function verdictWords(shoulderDominant: boolean | null): string {
  if (shoulderDominant === null) return 'not judged';
  return shoulderDominant ? 'judged shoulder-dominant' : 'judged a curl';
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
