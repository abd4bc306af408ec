import type { StateWords } from '../../core/feedback/live-words.ts';
import type { LiveSession } from '../../state/live-session.svelte.ts';

/** Stands where a number would be of a moment long past. */
export const NO_PICTURE = 'no picture comes';

/** The state in a word: before a set that of the session, in a set that of the movement. */
export function shownState({ stage, countInSeconds, readout, speed }: LiveSession): StateWords {
  if (stage === 'counting-in') {
    return { role: 'quiet', word: String(countInSeconds), detail: 'seconds until the set starts' };
  }
  if (stage === 'paused') return { role: 'attention', word: 'Pause', detail: 'nothing is recorded' };
  if (stage === 'finishing') return { role: 'quiet', word: 'Wait', detail: 'the set is being judged' };
  if (speed.isStalled) return { role: 'attention', word: 'Not measured', detail: NO_PICTURE };
  if (stage !== 'measuring' && readout.reason === null) {
    return { role: 'quiet', word: 'Ready', detail: 'start the set' };
  }
  return readout.state;
}
