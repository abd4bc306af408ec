import type { ComparedFigure, ComparedMeasure, SideFigure } from '../review/compare-figures.ts';
import { FORMS, valueWords, type QuantityForm } from './measure-words.ts';

/** What is compared, as it is named on screen, in tables and on paper. */
export const COMPARED_WORDS: Readonly<Record<ComparedMeasure, string>> = {
  range: 'Range of a repetition',
  top: 'Elbow flexion at the top',
  'bending-time': 'Bending time',
  lowering: 'Lowering time',
  travel: 'Travel of the body',
  'shoulder-share': 'Shoulder’s share of the motion',
  'hold-angle': 'Elbow angle of the holds',
  held: 'Held in the target range',
  'hold-steadiness': 'Share of the hold in the target range',
  'hand-rise': 'Rise of the hand',
};

const COMPARED_FORMS: Readonly<Record<ComparedFigure['unit'], QuantityForm>> = {
  deg: FORMS.angleDeg,
  s: FORMS.seconds,
  cm: FORMS.travelCm,
  share: FORMS.share,
  'upper-arms': FORMS.upperArms,
};

/** A figure of one side: "3.1 s, spread 0.2 s, of 8". */
export function sideWords(
  { mean, sd, count, of }: SideFigure,
  { unit }: Pick<ComparedFigure, 'unit'>,
): string {
  if (mean === null) return 'not measured';
  const form = COMPARED_FORMS[unit];
  const parts = count === of ? `of ${of}` : `measured in ${count} of ${of}`;
  return `${valueWords(mean, form)}${sd === null ? '' : `, spread ${valueWords(sd, form)}`}, ${parts}`;
}

/** The difference with its sign, or an empty text where there is none. */
export function changeWords({ change, unit }: ComparedFigure): string {
  if (change === null) return '';
  const words = valueWords(change, COMPARED_FORMS[unit]);
  return change > 0 ? `+${words}` : words;
}

/** What is to be said of a difference, with the limit and where it comes from. */
export function verdictWords(figure: ComparedFigure): string {
  const { verdict, limit, unit } = figure;
  const limitText = limit === null ? '' : valueWords(limit.value, COMPARED_FORMS[unit]);
  const from =
    limit?.from === 'own-sessions'
      ? `from ${limit.sessionCount} own sessions`
      : 'from rendered people, without what differs from day to day';
  switch (verdict) {
    case 'more':
    case 'less':
      return `${verdict}: beyond the ${limitText} that may be chance (${from})`;
    case 'no-change':
      return `no change: under ${limitText} may be chance (${from})`;
    case 'limit-unknown':
      return 'from which change on it is more than chance is not known';
    case 'single':
      return 'nothing is said: what may be chance is known of means over a set, not of one alone';
    case 'other-exercise':
      return 'nothing is said: two exercises are no change';
    case 'other-arm':
      return 'nothing is said: two arms are no change';
    case 'not-measured':
      return 'not measured on both sides';
  }
}
