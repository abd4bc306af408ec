import type { Direction } from '../plan/decision.ts';
import type { ProgressRules } from '../plan/progress-rules.ts';
import { figureWords, FORMS } from './measure-words.ts';

/** Where a plan can go, in few words. */
export const DIRECTION_WORDS: Readonly<Record<Direction, string>> = {
  advance: 'Go on to the next stage',
  stay: 'Stay in this stage',
  'step-back': 'Step back to the stage before',
  'seek-care': 'Seek medical care now',
};

/** The rules of progress in words, one sentence each. */
export function progressRulesWords(rules: ProgressRules): string[] {
  const percent = (share: number): string => `${figureWords(share, FORMS.share)} %`;
  return [
    `Going on is proposed after ${rules.goodDaysToAdvance} good training days in a row.`,
    `A day counts from ${percent(rules.doseShareToCount)} of the asked dose on.`,
    `Up to ${percent(rules.shoulderDominantShareAllowed)} of the body-moving curls may be shoulder-led.`,
    `Stepping back is proposed after ${rules.badDaysToStepBack} training days in a row above the pain ceiling.`,
    `Stepping back is proposed after ${rules.daysOffBeforeStepBack} days without training.`,
  ];
}
