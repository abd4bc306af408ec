import type { Body } from '../body.ts';
import type { Performance } from '../performance.ts';
import type { SeededRandom } from '../seeded-random.ts';
import type { BarPlace } from './bar-pull.ts';
import { barFor, createMixedPull, type MixedPullStyle } from './mixed-pull.ts';

/** A pull at a fixed bar whose mixture of curl and row follows from the work that the shoulder is to do. */
export interface PullOfSharesStyle extends Omit<MixedPullStyle, 'place' | 'mixtures'> {
  /** Off the place that suits the mixture. */
  readonly placeOff: BarPlace;
  /** What the shoulder is to do of the work of lifting, 0 to 1, one for each repetition; the bar suits their mean. */
  readonly workShares: readonly number[];
  /**
   * Where the mean is 0: how far from the strict curl to the mixture at which the shoulder begins to do work, 0 to 1. The
   * upper arm may well go back then, but the shoulder's extensors do not take it there.
   */
  readonly towardsWork: number;
}

/** Over a bar's own mixture every body reaches it; strict curls and rows are out of reach for some. */
const REACHED_MIXTURE = 0.6;
/** Halvings of the mixture: to a hundredth, a share of the work of about 0.03. */
const HALVINGS = 7;
/** Work under this share counts as none. */
const SOME_WORK = 0.01;
const CHECK_STEP_S = 0.1;

/**
 * A set of mixed pulls (createMixedPull) in which the shoulder does given shares of the work: over mixtures the share is
 * 0 up to about two thirds and then rises steeply, differently for each body, so that mixtures drawn evenly hardly ever
 * give a share in the middle. A share that is out of this body's reach becomes the nearest that is not.
 */
export function createPullOfShares(body: Body, style: PullOfSharesStyle, random: SeededRandom): Performance {
  const placeFor = (mixture: number): BarPlace => {
    const { reach, directionDeg } = barFor(mixture);
    return { reach: reach + style.placeOff.reach, directionDeg: directionDeg + style.placeOff.directionDeg };
  };
  const once = { ...style.plan, count: 1 };
  const shareAt = (place: BarPlace, mixture: number): number =>
    createMixedPull(body, { ...style, place, plan: once, mixtures: [mixture] }, random).repetitions[0]
      ?.shoulderWorkShare ?? 0;
  const mean = style.workShares.reduce((sum, share) => sum + share, 0) / style.workShares.length;
  const baseFor = (share: number): number =>
    mixtureOf(share, (mixture) => shareAt(placeFor(mixture), mixture));
  const wanted = mean < SOME_WORK ? style.towardsWork * baseFor(SOME_WORK) : baseFor(mean);
  // Nearer to what every body reaches, until this one does at every moment of the set.
  for (let part = 1; part >= 0; part -= 0.1) {
    const base = REACHED_MIXTURE + part * (wanted - REACHED_MIXTURE);
    const place = placeFor(base);
    const mixtures = style.workShares.map((share) =>
      mean < SOME_WORK ? base : mixtureOf(share, (mixture) => shareAt(place, mixture)),
    );
    const performance = reachable(() => createMixedPull(body, { ...style, place, mixtures }, random));
    if (performance !== null) return performance;
  }
  throw new RangeError('The bar cannot be reached with any mixture.');
}

/** The mixture at which the shoulder does this share of the work; the last one in reach where it never does. */
function mixtureOf(share: number, shareAt: (mixture: number) => number): number {
  let [low, high] = [0, 1];
  for (let halving = 0; halving < HALVINGS; halving++) {
    const mixture = (low + high) / 2;
    const there = unlessOutOfReach(() => shareAt(mixture)) ?? (mixture < REACHED_MIXTURE ? 0 : 1);
    if (there < share) low = mixture;
    else high = mixture;
  }
  return low;
}

/** The performance, or null when the body cannot reach the bar at some moment of it. */
function reachable(perform: () => Performance): Performance | null {
  return unlessOutOfReach(() => {
    const performance = perform();
    for (let timeS = 0; timeS < performance.durationS; timeS += CHECK_STEP_S) performance.postureAt(timeS);
    return performance;
  });
}

function unlessOutOfReach<T>(attempt: () => T): T | null {
  try {
    return attempt();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
