import { bootstrappedMean } from '../validation/agreement.ts';
import { percent, table } from '../validation/markdown.ts';
import { TRACE_MODELS } from '../trace.ts';
import { FOREARM_CATEGORIES } from './category.ts';
import type { HandMoment } from './hand-moments.ts';
import {
  following,
  guessByGeometry,
  guessByLearning,
  mostKept,
  surestFirst,
  type Guess,
  type Lines,
} from './trial.ts';

/** What of the pictures a category has to be right in. */
export const FOREARM_RIGHT_SHARE = 0.9;

/** Where the lines come from, by words; the true points stand for a network that errs by nothing. */
const SOURCES: readonly (readonly [string, Lines])[] = [
  ['true points', ({ truth }) => truth],
  ...TRACE_MODELS.map((model): [string, Lines] => [`\`${model}\``, ({ found }) => found[model]]),
];

const CONFIDENCE_STEPS = [0.33, 0.45, 0.55, 0.65, 0.8, 1] as const;

const rightOf = (guesses: readonly Guess[]): number =>
  guesses.filter(({ truth, said }) => truth === said).length / guesses.length;

/**
 * What a network's hand landmarks show of the forearm's rotation in the drawn pictures of sets in which it differs, as
 * Markdown: by geometry, and by what can be learned from them.
 */
export function forearmTrialSection(moments: readonly HandMoment[]): string[] {
  if (moments.length === 0) return [];
  const sets = new Set(moments.map(({ setId }) => setId)).size;
  return [
    `What the landmarks of a hand would allow, on the ${String(moments.length)} drawn pictures of ${String(sets)} standing curls in which the hand is in view. The category (palm down, thumb up, palm up) is the nearest of the three. By geometry: the rotation at which the true hand, on the true forearm, looks most as the three points were seen. Learned: a logistic regression on the same lines, each set judged by what the sets of the other nine tenths teach. The true points stand for a network without error.`,
    '',
    ...table(
      [
        'points',
        'camera yaw',
        'pictures',
        'thumb follows',
        'right by geometry',
        'most common category',
        'right as learned',
        'the surest half',
        `kept with ${percent(FOREARM_RIGHT_SHARE)} right`,
      ],
      SOURCES.flatMap(([words, linesOf]) => trialRows(moments, words, linesOf)),
    ),
    '',
    'How sure the learned category is (`full`), and how often it is right:',
    '',
    ...table(
      ['claimed', 'pictures', 'claimed in the mean', 'right'],
      reliabilityRows(guessByLearning(moments, ({ found }) => found.full)),
    ),
  ];
}

function trialRows(moments: readonly HandMoment[], words: string, linesOf: Lines): string[][] {
  const geometry = guessByGeometry(moments, linesOf);
  const learned = guessByLearning(moments, linesOf);
  const bands = [...new Set(moments.map(({ yawBandDeg }) => yawBandDeg))].sort((a, b) => a - b);
  return [null, ...bands].map((band) => {
    const ofBand = <T extends { readonly yawBandDeg: number }>(items: readonly T[]): T[] =>
      items.filter(({ yawBandDeg }) => band === null || yawBandDeg === band);
    const [own, byGeometry, byLearning] = [ofBand(moments), ofBand(geometry), ofBand(learned)];
    const surest = surestFirst(byLearning).slice(0, Math.ceil(byLearning.length / 2));
    return [
      words,
      band === null ? 'all' : `${String(band)}°`,
      String(byGeometry.length),
      following(own, linesOf).toFixed(2),
      rightWithInterval(byGeometry),
      percent(mostCommonShare(byGeometry)),
      rightWithInterval(byLearning),
      percent(rightOf(surest)),
      percent(mostKept(byLearning, FOREARM_RIGHT_SHARE)),
    ];
  });
}

function rightWithInterval(guesses: readonly Guess[]): string {
  const sets = [...new Set(guesses.map(({ setId }) => setId))].map((id) =>
    guesses.filter(({ setId }) => setId === id).map(({ truth, said }) => (truth === said ? 1 : 0)),
  );
  const { value, low, high } = bootstrappedMean(sets);
  return `${percent(value)} (${percent(low)} to ${percent(high)})`;
}

function mostCommonShare(guesses: readonly Guess[]): number {
  const counts = FOREARM_CATEGORIES.map(
    (category) => guesses.filter(({ truth }) => truth === category).length,
  );
  return Math.max(...counts) / Math.max(1, guesses.length);
}

function reliabilityRows(guesses: readonly Guess[]): string[][] {
  return CONFIDENCE_STEPS.slice(1).map((to, i) => {
    const from = CONFIDENCE_STEPS[i] ?? 0;
    const own = guesses.filter(({ confidence }) => confidence > from && confidence <= to);
    const claimed = own.reduce((sum, { confidence }) => sum + confidence, 0) / own.length;
    return [
      `${percent(from)} to ${percent(to)}`,
      String(own.length),
      percent(claimed),
      percent(rightOf(own)),
    ];
  });
}
