import type { Exercise } from '../exercises/exercise.ts';
import { CUE_NAMES, type CueCause, type CueName } from '../session/cue-log.ts';
import type { Tone } from './announcer.ts';
import type { Role } from './live-words.ts';

/** The graver goes first. Stop and safety take the place of what is being said; all others wait for it. */
const PRIORITIES = ['stop', 'safety', 'count', 'correction', 'information', 'praise'] as const;
type CuePriority = (typeof PRIORITIES)[number];

/** One cue: its words, its sound, and when it may be given. A # in the words is the figure it was given for. */
export interface CueRow {
  /** Shown: at most 15 letters, so that they are read from three metres. */
  readonly shown: string;
  /** Spoken where there is a voice: at most five words. */
  readonly spoken: string;
  /** Sounds where there is no voice. */
  readonly tone: Tone;
  readonly role: Role;
  readonly priority: CuePriority;
  /** Not given again sooner, seconds. Of a correction the time doubles with every time that it did not help. */
  readonly leastGapSeconds: number;
  /** A wish for it that had to wait longer than this, seconds, is dropped: it would speak of something past. */
  readonly freshSeconds: number;
  /** The exercises it belongs to. */
  readonly exercises: readonly Exercise[];
}

const ALL = ['hold', 'body-curl', 'band-curl', 'free-curl'] as const satisfies readonly Exercise[];
const REPETITIONS = ['body-curl', 'band-curl', 'free-curl'] as const satisfies readonly Exercise[];
const STANDING = ['band-curl', 'free-curl'] as const satisfies readonly Exercise[];

type Words = readonly [shown: string, spoken: string];
type Belongs = { readonly exercises: readonly Exercise[]; readonly leastGapSeconds?: number };

const stop = ([shown, spoken]: Words, { exercises }: Belongs): CueRow => ({
  shown,
  spoken,
  tone: 'asked-done',
  role: 'within',
  priority: 'stop',
  leastGapSeconds: 0,
  freshSeconds: 5,
  exercises,
});

const count = ([shown, spoken]: Words, tone: Tone, exercises: CueRow['exercises']): CueRow => ({
  shown,
  spoken,
  tone,
  role: 'quiet',
  priority: 'count',
  leastGapSeconds: 0,
  freshSeconds: 1,
  exercises,
});

const correction = ([shown, spoken]: Words, exercises: CueRow['exercises']): CueRow => ({
  shown,
  spoken,
  tone: 'correction',
  role: 'attention',
  priority: 'correction',
  leastGapSeconds: 8,
  freshSeconds: 3,
  exercises,
});

const information = (
  [shown, spoken]: Words,
  tone: Tone,
  { exercises, leastGapSeconds = 0 }: Belongs,
): CueRow => ({
  shown,
  spoken,
  tone,
  role: 'quiet',
  priority: 'information',
  leastGapSeconds,
  freshSeconds: 2,
  exercises,
});

/**
 * Every cue. Words, order and gaps: common practice, no source. That few and late words are better kept than many: the
 * guidance hypothesis (Salmoni, Schmidt and Walter 1984, Psychol Bull 95; from memory).
 */
export const CUE_TABLE: Readonly<Record<CueName, CueRow>> = {
  // All that was asked is done: nobody is to go on only because nobody said so.
  'hold-done': stop(['Let go slowly', 'Let go slowly'], { exercises: ['hold'] }),
  'set-done': stop(['Set is done', 'The set is done'], { exercises: REPETITIONS }),
  stopped: { ...stop(['Set is over', 'The set is over'], { exercises: ALL }), tone: 'stop' },
  'ease-off': {
    ...stop(['Ease off', 'Ease off, the bar lifts'], { exercises: ['hold'] }),
    tone: 'stop',
    role: 'stop',
    priority: 'safety',
    leastGapSeconds: 4,
    freshSeconds: 1,
  },
  'count-in': count(['#', '#'], 'count-in', ALL),
  go: count(['Go', 'Go'], 'start', ALL),
  repetition: count(['#', '#'], 'repetition', REPETITIONS),
  'time-left': { ...count(['# s left', '# seconds left'], 'information', ['hold']), freshSeconds: 2 },
  'bend-more': correction(['Bend more', 'Bend more'], ['hold']),
  'bend-less': correction(['Bend less', 'Bend less'], ['hold']),
  'hands-in-place': correction(['Hands in place', 'Keep the hands in place'], ['body-curl']),
  'shoulder-led': correction(['Shoulder led', 'That was the shoulder'], ['body-curl']),
  'upper-arm-still': correction(['Upper arm still', 'Keep the upper arm still'], ['body-curl']),
  'elbow-by-side': correction(['Elbow by side', 'Elbow by your side'], STANDING),
  'body-still': correction(['Body still', 'Keep the body still'], STANDING),
  'hips-up': correction(['Hips up', 'Keep the hips up'], ['body-curl']),
  'lower-slowly': correction(['Lower slowly', 'Lower more slowly'], REPETITIONS),
  'palm-up': correction(['Palm up', 'Palm up'], ['band-curl']),
  'turn-palm': correction(['Turn the palm', 'Turn the palm'], ['band-curl']),
  'bend-fully': correction(['Bend fully', 'Bend fully'], REPETITIONS),
  'in-range': {
    ...information(['In range', 'In range'], 'hold-begins', { exercises: ['hold'], leastGapSeconds: 5 }),
    role: 'within',
  },
  breathe: information(['Breathe', 'Breathe'], 'information', { exercises: ['hold'], leastGapSeconds: 20 }),
  paused: information(['Paused', 'Paused'], 'hold-ends', { exercises: ALL }),
  resumed: information(['Go on', 'Go on'], 'start', { exercises: ALL }),
  rest: information(['Rest, # s', 'Rest, # seconds'], 'information', { exercises: ALL }),
  'rest-over': information(['Rest is over', 'The rest is over'], 'rest-over', { exercises: ALL }),
  'like-that': {
    ...information(['Yes, like that', 'Yes, like that'], 'praise', { exercises: REPETITIONS }),
    role: 'within',
    priority: 'praise',
  },
};

/** A cue as it is given: what is shown, what is said. */
export interface Cue {
  readonly name: CueName;
  readonly words: string;
  readonly spoken: string;
  readonly role: Role;
  readonly why: CueCause;
}

/** The cue in words, with the whole figure that it is given for. Throws when its words need a figure that lacks. */
export function cueInWords(name: CueName, why: CueCause): Cue {
  const { shown, spoken, role } = CUE_TABLE[name];
  const filled = (words: string): string => {
    if (!words.includes('#')) return words;
    if (why.measured === null) throw new Error(`cueInWords: "${name}" needs a figure.`);
    return words.replace('#', String(Math.round(why.measured.value)));
  };
  return { name, words: filled(shown), spoken: filled(spoken), role, why };
}

/** Smaller goes first: by priority, then by the order of the table. */
export function cueRank(name: CueName): number {
  return PRIORITIES.indexOf(CUE_TABLE[name].priority) * CUE_NAMES.length + CUE_NAMES.indexOf(name);
}

/** Whether a cue takes the place of what is being said. */
export function interrupts(name: CueName): boolean {
  const { priority } = CUE_TABLE[name];
  return priority === 'stop' || priority === 'safety';
}
