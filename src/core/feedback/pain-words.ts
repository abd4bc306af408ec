import type { PainRules } from '../plan/pain-rules.ts';
import type { SetPainVerdict } from '../plan/pain.ts';

type PainOffer = PainRules['offers'][number];

/** What may be chosen when pain has passed the ceiling. */
export const PAIN_OFFER_WORDS: Readonly<Record<PainOffer, string>> = {
  'end-set': 'End here for today',
  shorten: 'Shorten the next set',
  'step-down': 'Go back to an easier exercise',
};

/** What the rating after a set comes to; null where there is nothing to say. Never to go on as if nothing were. */
export function setPainSentence(
  { verdict, ceiling }: SetPainVerdict,
  painAfter: number | null,
): string | null {
  if (verdict === 'within') return null;
  if (verdict === 'above')
    return `Pain is ${painAfter ?? 'above'} now; your plan allows up to ${ceiling ?? 0}. Rest, then choose.`;
  return 'Say how much the arm hurts, 0 to 10. Without an answer this set does not count towards going on.';
}

/** What the rating of the next morning comes to. */
export function morningPainSentence(pain: number, ceiling: number | null): string {
  if (ceiling === null)
    return `Pain this morning: ${pain}. Pain before the session was not said, so it cannot be compared.`;
  return pain > ceiling
    ? `Pain this morning is ${pain}; your plan allows up to ${ceiling}. Rest the arm today, and tell your therapist if it stays.`
    : `Pain this morning is ${pain}; your plan allows up to ${ceiling}.`;
}

/** The pain rules of a plan in words, one sentence each. */
export function painRulesWords({ riseAllowed, mostAllowed, nextMorningRiseAllowed }: PainRules): string[] {
  const rise = (points: number): string =>
    points === 0 ? 'may not rise' : `may rise by up to ${points} ${points === 1 ? 'point' : 'points'}`;
  return [
    `In a session pain ${rise(riseAllowed)} above the rating before it.`,
    `The next morning pain ${rise(nextMorningRiseAllowed)} above the rating before the session.`,
    ...(mostAllowed === null ? [] : [`Pain may never be above ${mostAllowed}.`]),
  ];
}
