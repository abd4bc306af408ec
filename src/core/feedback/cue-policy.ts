import type { FlagKind } from '../exercises/judgement.ts';
import type { Role } from './live-words.ts';

/** The graver goes first, and takes the place of what is being said. */
const PRIORITIES = ['safety', 'correction', 'information'] as const;

/** A cue that can be given: what to do, in so few letters (15) that they are read from three metres. */
export interface Cue {
  readonly words: string;
  readonly role: Role;
  readonly priority: (typeof PRIORITIES)[number];
}

const correction = (words: string): Cue => ({ words, role: 'attention', priority: 'correction' });

/** Cues that do not come from a flag. */
export const EASE_OFF: Cue = { words: 'Ease off', role: 'stop', priority: 'safety' };
export const BEND_MORE = correction('Bend more');
export const STRAIGHTEN = correction('Bend less');

/** What the plan asked of a set is done: nobody is to go on only because nobody said so. */
export const LET_GO: Cue = { words: 'Let go slowly', role: 'within', priority: 'information' };
export const SET_DONE: Cue = { words: 'Set is done', role: 'within', priority: 'information' };

/** What to do about what was noticed in a repetition; what is not here needs no word during a set. */
const BY_FLAG: Partial<Record<FlagKind, Cue>> = {
  'hand-slip': correction('Hands in place'),
  'shoulder-dominant': correction('Shoulders still'),
  'elbow-behind-trunk': correction('Elbows in front'),
  'upper-arm-forward': correction('Upper arms back'),
  'upper-arm-moving': correction('Upper arm still'),
  'trunk-sway': correction('Body still'),
  'hip-sag': correction('Hips up'),
  'lowering-fast': correction('Lower slowly'),
  'forearm-not-supinated': correction('Palm up'),
  'forearm-not-turning': correction('Turn the palm'),
  'range-bent-end-missing': correction('Bend fully'),
};

/** Of several flags the first in this order is said: the one that spoils the repetition most. */
const ORDER = Object.keys(BY_FLAG);

/** The cue for the flags of a repetition that has just ended, or null. */
export function cueForFlags(flags: readonly FlagKind[]): Cue | null {
  const [first] = [...flags]
    .filter((kind) => BY_FLAG[kind] !== undefined)
    .sort((a, b) => ORDER.indexOf(a) - ORDER.indexOf(b));
  return first === undefined ? null : (BY_FLAG[first] ?? null);
}

/** A cue stays so long, seconds: to be read from three metres, or heard. */
const SHOWN_SECONDS = 3;
/** The same correction is not said again sooner, seconds: a person needs time to act on it. */
const REPEAT_SECONDS = 8;

/** Which cue is given, and when each was given last. */
export interface CueState {
  readonly shown: { readonly cue: Cue; readonly sinceSeconds: number } | null;
  readonly lastSaid: ReadonlyMap<string, number>;
}

/** Nothing said yet. */
export const NO_CUES: CueState = { shown: null, lastSaid: new Map() };

/**
 * Decides on the one cue that is given now. A wish is taken when nothing is being said, or something less grave; the
 * same words are not repeated too soon. isNew is true in the step in which a cue begins, which is when it is spoken.
 */
export function stepCues(
  state: CueState,
  wish: Cue | null,
  timeSeconds: number,
): { readonly state: CueState; readonly isNew: boolean } {
  const isOver = state.shown !== null && timeSeconds - state.shown.sinceSeconds >= SHOWN_SECONDS;
  const shown = isOver ? null : state.shown;
  const kept = { ...state, shown };
  if (wish === null) return { state: kept, isNew: false };
  const rank = (cue: Cue): number => PRIORITIES.indexOf(cue.priority);
  if (shown !== null && rank(wish) >= rank(shown.cue)) return { state: kept, isNew: false };
  const saidBefore = state.lastSaid.get(wish.words) ?? -Infinity;
  if (timeSeconds - saidBefore < REPEAT_SECONDS) return { state: kept, isNew: false };
  const lastSaid = new Map(state.lastSaid).set(wish.words, timeSeconds);
  return { state: { shown: { cue: wish, sinceSeconds: timeSeconds }, lastSaid }, isNew: true };
}
