import type { StateWords } from '../../core/feedback/live-words.ts';
import type { LiveSession } from '../../state/live-session.svelte.ts';

/** The state in a word: before a set that of the session, in a set that of the movement. */
export function shownState({ stage, countInSeconds, readout }: LiveSession): StateWords {
  if (stage === 'counting-in') {
    return { role: 'quiet', word: String(countInSeconds), detail: 'seconds until the set starts' };
  }
  if (stage === 'finishing') return { role: 'quiet', word: 'Wait', detail: 'the set is being judged' };
  if (stage !== 'measuring' && readout.reason === null) {
    return { role: 'quiet', word: 'Ready', detail: 'start the set' };
  }
  return readout.state;
}
