import { toDegrees, toRadians } from '../math/angle.ts';
import { barCeiling, barReactions } from './bar-statics.ts';
import type { Bar } from './equipment.ts';
import { isKnown } from './load-figure.ts';
import {
  FREE_FALL,
  HOLD_PART_OF_CEILING,
  SEATED_LEAN_DEG,
  SEATED_LEAN_TO_OPEN_SIDE_DEG,
} from './load-limits.ts';

/** Where supports let a bar out. */
export type SupportShape = Bar['supportShape'];

/** What a pull does to a bar in its supports. */
export type BarSeat = 'seated' | 'lifts' | 'rolls-out' | 'tips';

/** Ways of pulling that are drawn: degrees from straight up, growing towards the side on which the supports are open. */
const PULL_DIRECTIONS_DEG = [0, 45, 90, 135, 180, 225, 270, 315] as const;

/**
 * Whether a bar stays in a support, from the sum of what pulls at it there and what the bar weighs there. A hook that is open
 * above holds what leans less than its walls; one that is open in front has a floor and a back and is trusted with
 * nothing upward, since what is above the bar is not known; a ring holds all.
 * @param upN - of the pull at this support
 * @param towardsOpenN - of the pull at this support, level, towards the open side (for a hook open above: either)
 * @param weightN - of the bar at this support
 */
function seatAt(shape: SupportShape, upN: number, towardsOpenN: number, weightN: number): BarSeat {
  if (shape === 'closed') return 'seated';
  const downN = weightN - upN;
  // Level pulls have a last digit of up or down.
  if (downN < -1e-9 * Math.abs(towardsOpenN) - 1e-12) return 'lifts';
  const leanDeg = toDegrees(Math.atan2(towardsOpenN, downN));
  if (shape === 'open-above') return Math.abs(leanDeg) > SEATED_LEAN_DEG ? 'rolls-out' : 'seated';
  return leanDeg > SEATED_LEAN_TO_OPEN_SIDE_DEG ? 'rolls-out' : 'seated';
}

/** One way of pulling and what it does. */
export interface PullOutcome {
  /** Of the pull on the bar, from straight up towards the open side. */
  readonly directionDeg: number;
  readonly seat: BarSeat;
}

/**
 * Every drawn way of pulling a bar with one force at each hand, and the worst that it does at either support. Pull and
 * weight come to the supports by their levers: near its ceiling an end hardly presses any more, and a small pull to the side
 * takes it out.
 */
export function barPullOutcomes(bar: Bar, forceN: number): PullOutcome[] {
  const atRest = barReactions(bar, 0);
  const pulled = barReactions(bar, forceN);
  const relief = { left: atRest.left - pulled.left, right: atRest.right - pulled.right };
  return outcomes((directionDeg) => {
    const [up, aside] = [Math.cos(toRadians(directionDeg)), Math.sin(toRadians(directionDeg))];
    const seats = (['left', 'right'] as const).flatMap((end, index): BarSeat[] => {
      if (bar.heldDown[index] === true) return [];
      const seat = seatAt(bar.supportShape, relief[end] * up, relief[end] * aside, atRest[end]);
      // Lifted by a pull downwards: the bar turns about its other support.
      return [seat === 'lifts' && up < -1e-9 ? 'tips' : seat];
    });
    return WORST_FIRST.find((seat) => seats.includes(seat)) ?? 'seated';
  });
}

/** The pull at each hand for which a bar's seat is drawn, newtons: a part of its ceiling, or of its weight where it has none. */
export function holdPullN(bar: Bar): number {
  const ceiling = barCeiling(bar);
  return HOLD_PART_OF_CEILING * (isKnown(ceiling) ? ceiling.forceN : bar.massKg * FREE_FALL);
}

/** The same for a bar of which nothing but its supports is known: its weight is taken for none. */
export function lightBarPullOutcomes(shape: SupportShape): PullOutcome[] {
  return outcomes((directionDeg) =>
    seatAt(shape, Math.cos(toRadians(directionDeg)), Math.sin(toRadians(directionDeg)), 0),
  );
}

const WORST_FIRST = ['lifts', 'tips', 'rolls-out', 'seated'] as const;

function outcomes(seatOf: (directionDeg: number) => BarSeat): PullOutcome[] {
  return PULL_DIRECTIONS_DEG.map((directionDeg) => ({ directionDeg, seat: seatOf(directionDeg) }));
}
