import type { TrendMeasure } from '../plan/trend-measures.ts';
import type { ChangeLimit, Trend } from '../plan/trend.ts';
import { PLANNED_EXERCISE_WORDS } from './dose-words.ts';
import { FORMS, valueWords, type QuantityForm } from './measure-words.ts';

/** What is followed over the weeks, as it is named everywhere. */
const TREND_MEASURE_WORDS: Readonly<Record<TrendMeasure, string>> = {
  'pain-before': 'Pain before the session',
  'pain-worst': 'Worst pain in the session',
  'pain-next-morning': 'Pain the next morning',
  tension: 'Time under tension a day',
  impulse: 'Elbow moment times time a day, estimated',
  'hold-angle': 'Elbow angle of the holds',
  'hold-steadiness': 'Share of the hold in the target range',
  lowering: 'Lowering time',
  'shoulder-share': 'Shoulder’s share of the motion',
  range: 'Range of a repetition',
};

const TREND_FORMS: Readonly<Record<Trend['unit'], QuantityForm>> = {
  '0 to 10': { unit: '', decimals: 1 },
  s: { unit: 's', decimals: 1 },
  'N m s': { unit: 'N m s', decimals: 0 },
  deg: FORMS.angleDeg,
  share: FORMS.share,
};

/** The name of a trend: the measure, and the exercise where it belongs to one. */
export function trendName({ measure, exercise }: Pick<Trend, 'measure' | 'exercise'>): string {
  const name = TREND_MEASURE_WORDS[measure];
  return exercise === null ? name : `${name} (${PLANNED_EXERCISE_WORDS[exercise].toLowerCase()})`;
}

/** A figure of a trend with its unit. */
export function trendValueWords(value: number, { unit, measure }: Pick<Trend, 'unit' | 'measure'>): string {
  // Seconds of a whole day need no tenths.
  return valueWords(value, measure === 'tension' ? { unit: 's', decimals: 0 } : TREND_FORMS[unit]);
}

/** What has become of a measure, in one sentence with its numbers, the limit and where that comes from. */
export function trendSentence(trend: Trend): string {
  const { first, last, change, limit, verdict } = trend;
  const name = trendName(trend);
  if (first === null || last === null || change === null)
    return `${name}: ${first === null ? 'no figure yet' : `${trendValueWords(first, trend)}, from one week so far`}.`;
  const fromTo = `${name}: ${trendValueWords(first, trend)} in the first week, ${trendValueWords(last, trend)} in the last`;
  if (limit === null) return `${fromTo}. From which change on it is more than chance is not known.`;
  switch (verdict) {
    case 'no-change':
      return `${fromTo}: no change, because ${limitWords(limit, trend)}.`;
    case 'more':
    case 'less':
      return `${fromTo}: ${verdict}. ${capitalised(limitWords(limit, trend))}.`;
    default:
      return `${fromTo}.`;
  }
}

/** From which change on it is more than chance, and how that is known. */
function limitWords({ value, from, sessionCount }: ChangeLimit, trend: Trend): string {
  switch (from) {
    case 'pain-scale':
      return 'only 2 points and 30 % together count as a change of pain';
    case 'own-sessions':
      return `a change under ${trendValueWords(value, trend)} may be chance (from ${sessionCount} own sessions)`;
    case 'table':
      return `a change under ${trendValueWords(value, trend)} may be chance (from rendered people, camera put up anew)`;
  }
}

/** Where the limit of a trend comes from. */
export function limitSource(limit: ChangeLimit): string {
  switch (limit.from) {
    case 'pain-scale':
      return 'Farrar et al. 2001, Pain 94:149-158; Salaffi et al. 2004, Eur J Pain 8:283-291';
    case 'own-sessions':
      return 'own repeated sessions; standard error and 1.96 sqrt(2) of it: Weir 2005, J Strength Cond Res 19:231-240';
    case 'table':
      return 'repeated measurements of rendered people (docs/repeatability.md)';
  }
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
