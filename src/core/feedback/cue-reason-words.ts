import { FLAG_KINDS, type FlagKind } from '../exercises/judgement.ts';
import type { CueCause, GivenCue } from '../session/cue-log.ts';
import { flagWords } from './flag-words.ts';

const OTHER_CAUSES: Readonly<Record<Exclude<CueCause['what'], FlagKind>, string>> = {
  'set-begins': 'the set began',
  'set-stopped': 'stopped or paused',
  'asked-done': 'all that was asked was done',
  held: 'time in the range',
  'time-left': 'time left of what was asked',
  'repetition-ended': 'a repetition ended',
  'good-again': 'the first repetition without that fault',
  rest: 'the rest',
};

const HEARD: Readonly<Record<GivenCue['by'], string>> = {
  voice: 'spoken',
  tone: 'a tone and the words shown',
  caption: 'the words shown',
};

/** Decimals by unit, as the error of each allows. */
const DECIMALS: Readonly<Record<NonNullable<CueCause['measured']>['unit'], number>> = {
  s: 1,
  deg: 0,
  'upper-arm lengths': 2,
  repetitions: 0,
  share: 2,
};

/** Why a cue was given, with the figure it was given for, for the therapist. */
export function cueReasonWords({ what, measured }: CueCause): string {
  const cause = isFlag(what) ? flagWords(what).therapist : OTHER_CAUSES[what];
  if (measured === null) return cause;
  const { value, unit } = measured;
  const figure = value.toFixed(DECIMALS[unit]);
  return `${cause}: ${unit === 'share' ? `share ${figure}` : `${figure} ${unit}`}`;
}

/** How a cue was heard. */
export function cueHeardWords(by: GivenCue['by']): string {
  return HEARD[by];
}

function isFlag(what: CueCause['what']): what is FlagKind {
  return (FLAG_KINDS as readonly string[]).includes(what);
}
