import { durationWords, FORMS, valueWords } from '../../core/feedback/measure-words.ts';
import type { SessionListing } from '../../core/session/session-store.ts';

/** The figures of a session in the list: what its exercise counts, how many sets, how long. */
export function listingFigures(listing: SessionListing): { readonly name: string; readonly value: string }[] {
  const { whole, setCount } = listing;
  const about = [
    { name: 'sets', value: String(setCount) },
    { name: 'time', value: durationWords(whole.totalSeconds + listing.cutOffSeconds) },
  ];
  if (listing.exercise === 'hold') {
    return [
      { name: 'held in range', value: valueWords(whole.holdInRangeSeconds, FORMS.seconds) },
      { name: 'holds', value: String(whole.holds) },
      ...about,
    ];
  }
  const { partialRepetitions, shoulderDominantRepetitions } = whole;
  return [
    { name: 'repetitions', value: String(whole.repetitions) },
    ...(partialRepetitions > 0 ? [{ name: 'partial', value: String(partialRepetitions) }] : []),
    ...(listing.exercise === 'body-curl'
      ? [{ name: 'shoulder-dominant', value: String(shoulderDominantRepetitions ?? 'not measured') }]
      : []),
    ...(whole.loweringSecondsMedian === null
      ? []
      : [{ name: 'lowering, median', value: valueWords(whole.loweringSecondsMedian, FORMS.seconds) }]),
    ...about,
  ];
}
