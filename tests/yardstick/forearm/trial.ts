import { FOREARM_CATEGORIES, forearmCategory, type ForearmCategory } from './category.ts';
import { learnCategories, type Example } from './category-classifier.ts';
import type { Across, HandLines, HandMoment } from './hand-moments.ts';
import { rotationByGeometry, turnShares } from './rotation-by-geometry.ts';

/** What a trial said of one picture, and how sure it was: 1/3 to 1, or 1 where it does not say. */
export interface Guess {
  readonly setId: string;
  readonly yawBandDeg: number;
  readonly truth: ForearmCategory;
  readonly said: ForearmCategory;
  readonly confidence: number;
}

/** Which lines of a picture a trial goes by; undefined where there are none. */
export type Lines = (moment: HandMoment) => HandLines | undefined;

/** A set is told from others' pictures only: so many parts, each judged by what the others teach. */
const PARTS = 10;

const truthOf = ({
  setId,
  yawBandDeg,
  rotationDeg,
}: HandMoment): Pick<Guess, 'setId' | 'yawBandDeg' | 'truth'> => ({
  setId,
  yawBandDeg,
  truth: forearmCategory(rotationDeg),
});

/** What geometry makes of the lines, with the true directions of the forearm and the hand's true shape given. */
export function guessByGeometry(moments: readonly HandMoment[], linesOf: Lines): Guess[] {
  return moments.flatMap((moment) => {
    const lines = linesOf(moment);
    if (lines === undefined) return [];
    return [{ ...truthOf(moment), said: forearmCategory(rotationByGeometry(moment, lines)), confidence: 1 }];
  });
}

/** What can be learned from the lines: each set is judged by what the sets of the other parts teach. */
export function guessByLearning(moments: readonly HandMoment[], linesOf: Lines): Guess[] {
  const ids = [...new Set(moments.map(({ setId }) => setId))].sort();
  const partOf = new Map(ids.map((id, i) => [id, i % PARTS]));
  return Array.from({ length: PARTS }, (_, part) => part).flatMap((part) => {
    const own = moments.filter(({ setId }) => partOf.get(setId) === part);
    const others = moments.filter(({ setId }) => partOf.get(setId) !== part);
    const likelihoods = learnCategories(others.flatMap((moment) => exampleOf(moment, linesOf) ?? []));
    return own.flatMap((moment) => {
      const example = exampleOf(moment, linesOf);
      if (example === null) return [];
      const likely = likelihoods(example.features);
      const confidence = Math.max(...likely);
      const said = FOREARM_CATEGORIES[likely.indexOf(confidence)] ?? 'thumb up';
      return [{ ...truthOf(moment), said, confidence }];
    });
  });
}

function exampleOf(moment: HandMoment, linesOf: Lines): Example | null {
  const lines = linesOf(moment);
  if (lines === undefined) return null;
  return {
    features: [
      ...turnShares(moment, lines),
      ...[lines.knuckles, lines.thumb].flatMap((line) => alongAndAcross(moment, line)),
    ],
    category: FOREARM_CATEGORIES.indexOf(forearmCategory(moment.rotationDeg)),
  };
}

/** A line along the forearm as the picture shows it, and across it to the side to which it folds; trunk lengths. */
function alongAndAcross({ forearm, folding, trunkPx }: HandMoment, line: Across): readonly [number, number] {
  const length = Math.hypot(forearm.x, forearm.y);
  const along = { x: forearm.x / length, y: forearm.y / length };
  const side = Math.sign(along.x * folding.y - along.y * folding.x);
  return [
    (line.x * along.x + line.y * along.y) / trunkPx,
    (side * (line.y * along.x - line.x * along.y)) / trunkPx,
  ];
}

/** Fewer pictures than this say nothing of a share. */
const FEWEST = 20;

/** The largest share of guesses, the surest first, of which at least so many are right, 0 to 1. */
export function mostKept(guesses: readonly Guess[], rightShare: number): number {
  let right = 0;
  let kept = 0;
  surestFirst(guesses).forEach(({ truth, said }, i) => {
    if (truth === said) right++;
    if (i + 1 >= FEWEST && right / (i + 1) >= rightShare) kept = i + 1;
  });
  return kept / Math.max(1, guesses.length);
}

/** Guesses in order of confidence, falling. */
export function surestFirst(guesses: readonly Guess[]): Guess[] {
  return guesses.toSorted((a, b) => b.confidence - a.confidence);
}

/** How far a found line goes with the true one across the forearm: slope of a straight line through both, 1 when it follows. */
export function following(moments: readonly HandMoment[], linesOf: Lines): number {
  const pairs = moments.flatMap((moment) => {
    const lines = linesOf(moment);
    if (lines === undefined) return [];
    return [
      { truth: alongAndAcross(moment, moment.truth.thumb)[1], found: alongAndAcross(moment, lines.thumb)[1] },
    ];
  });
  const mean = (of: (pair: { truth: number; found: number }) => number): number =>
    pairs.reduce((sum, pair) => sum + of(pair), 0) / Math.max(1, pairs.length);
  const [truth, found] = [mean((pair) => pair.truth), mean((pair) => pair.found)];
  const together = mean((pair) => (pair.truth - truth) * (pair.found - found));
  return together / mean((pair) => (pair.truth - truth) ** 2);
}
