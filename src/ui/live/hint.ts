import { startsByItselfWords } from '../../core/feedback/hands-free-words.ts';
import type { Role } from '../../core/feedback/live-words.ts';
import { networkLoadingWords } from '../../core/feedback/network-loading-words.ts';
import { TILE_OFF } from '../../core/feedback/shared-advice.ts';
import { reasonSentence, reasonShort } from '../../core/feedback/reasons.ts';
import type { LiveSession } from '../../state/live-session.svelte.ts';

/** What stands in the cue's place while there is no cue. */
export interface Hint {
  readonly role: Role;
  /** In so few letters (15) that they are read from three metres; null where it takes a sentence. */
  readonly short: string | null;
  /** Read near by; empty where the few letters say it all. */
  readonly sentence: string;
}

const NOTHING: Hint = { role: 'quiet', short: null, sentence: '' };

const sentence = (words: string): Hint => ({ ...NOTHING, sentence: words });

/** What stands in the cue's place while there is no cue: what went wrong, what goes on, or what to do next. */
export function hintOf(session: LiveSession): Hint {
  const { problem, stream, speed, stage, readout } = session;
  if (problem !== null) return sentence(problem);
  if (stream.isTileOff) return { role: 'attention', short: 'Frame anew', sentence: TILE_OFF };
  if (stream.isPreparing || speed.isChanging) return sentence(networkLoadingWords(stream.progress));
  // Before the reasons of single pictures: while none comes, the last one's reason says nothing.
  if (speed.hint !== null && (stage === 'watching' || stage === 'measuring')) {
    const { reason } = readout;
    const short = speed.isStalled ? 'No picture' : reason === null ? null : reasonShort(reason);
    return { role: 'attention', short, sentence: speed.hint };
  }
  switch (stage) {
    case 'watching':
      return startHint(session) ?? viewHint(session);
    case 'counting-in':
      return { ...NOTHING, short: 'Take your place' };
    case 'measuring':
      return readout.reason === null
        ? NOTHING
        : {
            role: 'attention',
            short: reasonShort(readout.reason),
            sentence: reasonSentence(readout.reason),
          };
    case 'paused':
      return startHint(session) ?? { role: 'attention', short: 'Not recorded', sentence: '' };
    case 'finishing':
      return sentence('The set is being judged.');
    case 'opening':
      return sentence('The source is being opened.');
    case 'none':
      return NOTHING;
  }
}

/** What to do so that the next set starts, or goes on, by itself; null where that is not up to the person. */
export function startHint({ pace, exercise }: LiveSession): Hint | null {
  if (pace === null || exercise === null) return null;
  const words = startsByItselfWords(pace.notYet, exercise.exercise, pace.secondsToStart);
  return words === null ? null : { role: 'quiet', ...words };
}

/** What is wrong with the view comes before what is wrong with the machine: it can be mended at once. */
function viewHint({ advice, speed }: LiveSession): Hint {
  if (advice === null || (advice.isGood && speed.warning !== null)) return sentence(speed.warning ?? '');
  const { isGood, short, sentence: words } = advice;
  return { role: isGood ? 'within' : 'attention', short, sentence: words };
}
