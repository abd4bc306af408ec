import type { CueCause, CueName } from '../session/cue-log.ts';
import { cueInWords, cueRank, CUE_TABLE, interrupts, type Cue } from './cue-table.ts';

/** A cue that what was measured asks for. */
export interface CueWish {
  readonly cue: CueName;
  readonly why: CueCause;
}

/** A caption stays so long, seconds: to be read from three metres. A number is read at a glance. */
const SHOWN_SECONDS = { count: 1.2, other: 3 };
/** Where nobody hears when the words are over: seconds a spoken cue takes, by its words. Common practice, no source. */
const SPEAKING_SECONDS = { begin: 0.4, word: 0.35 };
/** A voice that has not come to an end by then never will, seconds: cues must not fall silent with it. */
const LONGEST_SPEECH_SECONDS = 6;

/** Which cue is given, which wait, and when each was given last. */
export interface CueState {
  readonly shown: { readonly cue: Cue; readonly sinceSeconds: number } | null;
  readonly waiting: readonly { readonly wish: CueWish; readonly sinceSeconds: number }[];
  /** When each was given last, and how often in a row without its fault having gone. */
  readonly given: ReadonlyMap<CueName, { readonly timeSeconds: number; readonly inARow: number }>;
}

/** Nothing given yet. */
export const NO_CUES: CueState = { shown: null, waiting: [], given: new Map() };

/** The moment in which it is decided. */
export interface CueMoment {
  readonly timeSeconds: number;
  /** True while a voice speaks. */
  readonly isSpeaking: boolean;
}

/**
 * Decides on the one cue that is given now. A wish waits while another cue is being said, and is dropped when it has become
 * stale; stop and safety do not wait. The same cue is not given again before its gap is over, which doubles each time that
 * its fault stayed. given is the cue that begins in this step, which is when it is spoken.
 */
export function stepCues(
  before: CueState,
  wishes: readonly CueWish[],
  moment: CueMoment,
): { readonly state: CueState; readonly given: Cue | null } {
  const now = moment.timeSeconds;
  const waiting = [...before.waiting, ...wishes.map((wish) => ({ wish, sinceSeconds: now }))]
    .filter(({ wish: { cue }, sinceSeconds }) => now - sinceSeconds <= CUE_TABLE[cue].freshSeconds)
    .filter(({ wish: { cue } }) => mayRepeat(before, cue, now));
  const shown = isShown(before, moment) ? before.shown : null;
  const isBusy = isSaying(before, moment);
  const [next] = [...waiting]
    .filter(({ wish: { cue } }) => !isBusy || takesPlaceOf(cue, before.shown?.cue.name ?? null))
    .sort((a, b) => cueRank(a.wish.cue) - cueRank(b.wish.cue) || b.sinceSeconds - a.sinceSeconds);
  if (next === undefined) return { state: { ...before, shown, waiting: newest(waiting) }, given: null };
  const cue = cueInWords(next.wish.cue, next.wish.why);
  const inARow = (before.given.get(cue.name)?.inARow ?? 0) + 1;
  return {
    state: {
      shown: { cue, sinceSeconds: now },
      waiting: newest(waiting.filter(({ wish }) => wish.cue !== cue.name)),
      given: new Map(before.given).set(cue.name, { timeSeconds: now, inARow }),
    },
    given: cue,
  };
}

/** A fault has gone: its correction starts over when it comes back, yet not before the gap is over. */
export function faultsGone(state: CueState, cues: readonly CueName[]): CueState {
  const isOpen = (cue: CueName): boolean => (state.given.get(cue)?.inARow ?? 0) > 0;
  const given = cues.some(isOpen)
    ? new Map(
        [...state.given].map(([cue, last]) => [cue, cues.includes(cue) ? { ...last, inARow: 0 } : last]),
      )
    : state.given;
  return { ...state, given, waiting: state.waiting.filter(({ wish }) => !cues.includes(wish.cue)) };
}

/** The seconds that saying a cue takes at most, estimated from its words. */
export function speakingSeconds({ spoken }: Pick<Cue, 'spoken'>): number {
  return SPEAKING_SECONDS.begin + SPEAKING_SECONDS.word * spoken.split(' ').length;
}

function mayRepeat({ given }: CueState, cue: CueName, now: number): boolean {
  const last = given.get(cue);
  if (last === undefined) return true;
  const { leastGapSeconds, priority } = CUE_TABLE[cue];
  const growth = priority === 'correction' ? 2 ** Math.max(0, last.inARow - 1) : 1;
  return now - last.timeSeconds >= leastGapSeconds * growth;
}

function isShown({ shown }: CueState, { timeSeconds }: CueMoment): boolean {
  if (shown === null) return false;
  const isCount = CUE_TABLE[shown.cue.name].priority === 'count';
  return timeSeconds - shown.sinceSeconds < (isCount ? SHOWN_SECONDS.count : SHOWN_SECONDS.other);
}

/** Whether a cue is being said; the caption may be gone while a slow voice still speaks, but not for ever. */
function isSaying({ shown, given }: CueState, { timeSeconds, isSpeaking }: CueMoment): boolean {
  if (shown !== null && timeSeconds - shown.sinceSeconds < speakingSeconds(shown.cue)) return true;
  const lastSeconds = Math.max(...[...given.values()].map((last) => last.timeSeconds));
  return isSpeaking && (given.size === 0 || timeSeconds - lastSeconds < LONGEST_SPEECH_SECONDS);
}

/** Only stop and safety cut in, and never on something as grave. */
function takesPlaceOf(cue: CueName, shown: CueName | null): boolean {
  if (!interrupts(cue)) return false;
  return shown === null || !interrupts(shown) || cueRank(cue) < cueRank(shown);
}

/** Of the same cue only the latest wish waits. */
function newest(waiting: CueState['waiting']): CueState['waiting'] {
  return waiting.filter(
    ({ wish }, index) => !waiting.slice(index + 1).some((later) => later.wish.cue === wish.cue),
  );
}
