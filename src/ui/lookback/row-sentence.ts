import type { Repetition, RowIndicators } from '../../core/exercises/judgement.ts';
import { handClosing } from '../../core/exercises/row-indicators.ts';
import { rowVotes, type RowVotes } from '../../core/exercises/row-rule.ts';
import type { Thresholds } from '../../core/exercises/thresholds.ts';
import { FORMS, valueWords } from '../../core/feedback/measure-words.ts';
import { valueOf } from '../../core/kinematics/measured.ts';

const INDICATOR_WORDS: Readonly<Record<keyof RowVotes, string>> = {
  shoulderShare: 'the shoulder’s share of the motion',
  elbowBehindTrunk: 'the elbow’s place behind the trunk',
  elbowMoment: 'the elbow’s share of the moment',
  handClosing: 'the hand’s distance from the trunk',
};

/** The indicators in the order in which they weigh. */
const INDICATORS: readonly (keyof RowVotes)[] = [
  'shoulderShare',
  'elbowBehindTrunk',
  'elbowMoment',
  'handClosing',
];

/**
 * Why a repetition was judged as it was, in one plain sentence with the figures, by the rule's own votes and the
 * record's own thresholds. number counts from 1.
 */
export function rowSentence(number: number, repetition: Repetition, thresholds: Thresholds): string {
  const { row, shoulderDominant } = repetition;
  if (row === null)
    return `Repetition ${number} was not judged: shoulder, elbow, hand and trunk were not measured.`;
  const votes = rowVotes(row, thresholds);
  const signs = INDICATORS.filter((name) => votes[name] === 'row').map((name) =>
    signWords(name, row, thresholds),
  );
  if (shoulderDominant === true) {
    return `Repetition ${number} was judged shoulder-dominant: ${listed(signs)}.`;
  }
  if (shoulderDominant === null) {
    const unsure = INDICATORS.filter((name) => votes[name] === 'unknown').map(
      (name) => INDICATOR_WORDS[name],
    );
    return `Repetition ${number} was not judged: ${listed(unsure)} could not be told well enough, and would decide.`;
  }
  return signs.length === 0
    ? `Repetition ${number} was judged a curl: no indicator speaks for a row.`
    : `Repetition ${number} was judged a curl: ${listed(signs)}, which is not enough for a row.`;
}

function signWords(name: keyof RowVotes, row: RowIndicators, thresholds: Thresholds): string {
  switch (name) {
    case 'shoulderShare': {
      const limit = valueWords(thresholds.shoulderShare, FORMS.share);
      return `the shoulder made ${shareWords(valueOf(row.shoulderShare))} of the motion (${limit} or more speaks for a row)`;
    }
    case 'elbowBehindTrunk': {
      const limit = thresholds.elbowBehindTrunkUpperArms.toFixed(2);
      const far = armLengths(valueOf(row.elbowBehindTrunkUpperArms));
      return `the elbow went ${far} behind the trunk (from ${limit} on)`;
    }
    case 'elbowMoment': {
      const share = valueOf(row.elbowMomentShare);
      if (share === null) return 'the shoulder needed its extensors while the elbow needed no flexors';
      return `the elbow had ${shareWords(share)} of the moment (under ${shareWords(thresholds.elbowMomentShare)})`;
    }
    case 'handClosing': {
      const limit = thresholds.handClosingUpperArms.toFixed(2);
      return `the hand came ${armLengths(handClosing(row))} nearer to the trunk line (from ${limit} on)`;
    }
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
