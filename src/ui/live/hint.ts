import { startsByItselfWords } from '../../core/feedback/hands-free-words.ts';
import { networkLoadingWords } from '../../core/feedback/network-loading-words.ts';
import { reasonSentence } from '../../core/feedback/reasons.ts';
import type { LiveSession } from '../../state/live-session.svelte.ts';

/** What stands in the cue's place while there is no cue: what went wrong, what goes on, or what to do next. */
export function hintOf(session: LiveSession): string {
  if (session.problem !== null) return session.problem;
  if (session.stream.isPreparing) return networkLoadingWords(session.stream.progress);
  if (session.speed.isChanging) return networkLoadingWords(session.stream.progress);
  // Before the reasons of single pictures: while none comes, the last one's reason says nothing.
  if (session.speed.hint !== null && (session.stage === 'watching' || session.stage === 'measuring'))
    return session.speed.hint;
  switch (session.stage) {
    case 'watching':
      return watchingHint(session);
    case 'counting-in':
      return 'Take your place.';
    case 'measuring':
      return session.readout.reason === null ? '' : reasonSentence(session.readout.reason);
    case 'paused':
      return 'Paused. Nothing is recorded.';
    case 'finishing':
      return 'The set is being judged.';
    case 'opening':
      return 'The source is being opened.';
    case 'none':
      return '';
  }
}

/** What is wrong with the view comes before what is wrong with the machine: it can be mended at once. */
function watchingHint({ advice, speed, pace, exercise }: LiveSession): string {
  if (pace !== null && exercise !== null) {
    const words = startsByItselfWords(pace.notYet, exercise.exercise, pace.secondsToStart);
    if (words !== '') return words;
  }
  if (advice !== null && !advice.isGood) return advice.sentence;
  return speed.warning ?? advice?.sentence ?? '';
}
