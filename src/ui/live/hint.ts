import { reasonSentence } from '../../core/feedback/reasons.ts';
import type { LiveSession } from '../../state/live-session.svelte.ts';

/** What stands in the cue's place while there is no cue: what went wrong, what goes on, or what to do next. */
export function hintOf(session: LiveSession): string {
  if (session.problem !== null) return session.problem;
  if (session.stream.isPreparing) return 'The pose network is being loaded. This takes a few seconds.';
  switch (session.stage) {
    case 'watching':
      return session.advice?.sentence ?? '';
    case 'counting-in':
      return 'Take your place.';
    case 'measuring':
      return session.readout.reason === null ? '' : reasonSentence(session.readout.reason);
    case 'finishing':
      return 'The set is being judged.';
    case 'opening':
      return 'The source is being opened.';
    case 'none':
      return '';
  }
}
