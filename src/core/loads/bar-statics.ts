import { toRadians } from '../math/angle.ts';
import { armLengths, forearmWeightFigure, type LoadPerson } from './arm-geometry.ts';
import type { Bar } from './equipment.ts';
import {
  figureWithDoubts,
  independentSum,
  isKnown,
  notKnown,
  scaled,
  type Doubt,
  type LoadValue,
  type NotKnown,
} from './load-figure.ts';
import { BODY_DOUBT, FREE_FALL, INPUT_DOUBT } from './load-limits.ts';

/** The two ends of a bar at which it may leave its support. */
const ENDS = ['left', 'right'] as const;
type BarEnd = (typeof ENDS)[number];

/** What the supports do to a bar, newtons, upward positive. */
export interface BarReactions {
  readonly left: number;
  readonly right: number;
}

/** The most that a bar gives to a hand that lifts, and where it rises first. */
export interface BarCeiling {
  /** Newtons at each hand, straight up, with every hand pulling alike. */
  readonly forceN: number;
  /** The support that the bar leaves first. */
  readonly risesAt: BarEnd | 'both';
}

/**
 * A grip that relieves a support by less than this part of its pull stands above the other one and never lifts it: a
 * ceiling of a thousand weights of the bar is none.
 */
const LEAST_RELIEF = 1e-3;

/**
 * Reactions of the supports when each grip is pulled straight up with the same force; negative: the support has to hold the
 * bar down. From moments about each support, whatever the bar's slant.
 * @param forceN - at each hand, upward positive, downward negative
 */
export function barReactions(bar: Bar, forceN: number): BarReactions {
  const [left, right] = bar.supportsM;
  const weightN = bar.massKg * FREE_FALL;
  const span = right - left;
  const middle = bar.lengthM / 2;
  const pulls = (from: (placeM: number) => number): number =>
    bar.gripsM.reduce((sum, placeM) => sum + forceN * from(placeM), 0);
  return {
    left: (weightN * (right - middle) - pulls((placeM) => right - placeM)) / span,
    right: (weightN * (middle - left) - pulls((placeM) => placeM - left)) / span,
  };
}

/**
 * The force at each hand at which a bar that is pulled straight up starts to lift: what a hold on it can ask at most. A
 * bar that rests at its ends gives half its weight at an end and all of it in the middle; two hands share it.
 * @returns "no-ceiling" when it is held down where it would rise; "bar-does-not-rest" when it would tip off by itself
 */
export function barCeiling(bar: Bar): BarCeiling | NotKnown {
  const atRest = barReactions(bar, 0);
  const perNewton = barReactions(bar, 1);
  const [heldLeft, heldRight] = bar.heldDown;
  if ((atRest.left < 0 && !heldLeft) || (atRest.right < 0 && !heldRight))
    return notKnown('bar-does-not-rest');
  const lifting = ENDS.flatMap((end) => {
    const relief = atRest[end] - perNewton[end];
    const held = end === 'left' ? heldLeft : heldRight;
    return held || relief < LEAST_RELIEF ? [] : [{ end, forceN: Math.max(0, atRest[end]) / relief }];
  });
  const [first, second] = lifting.sort((a, b) => a.forceN - b.forceN);
  if (first === undefined) return notKnown('no-ceiling');
  const together = second !== undefined && second.forceN - first.forceN < 1e-9 * (1 + first.forceN);
  return { forceN: first.forceN, risesAt: together ? 'both' : first.end };
}

const BAR_DOUBTS: readonly Doubt<Bar>[] = [
  (bar, sign) => ({ ...bar, massKg: bar.massKg * (1 + sign * INPUT_DOUBT.massShare) }),
  (bar, sign) => ({ ...bar, gripsM: bar.gripsM.map((placeM) => placeM + sign * INPUT_DOUBT.barPlaceM) }),
  ...([0, 1] as const).map((moved): Doubt<Bar> => (bar, sign) => {
    const [left, right] = bar.supportsM;
    const step = sign * INPUT_DOUBT.barPlaceM;
    return { ...bar, supportsM: moved === 0 ? [left + step, right] : [left, right + step] };
  }),
];

/** barCeiling's force with the doubts of mass, grips and supports, newtons at each hand. */
export function barCeilingFigure(bar: Bar): LoadValue {
  const ceiling = barCeiling(bar);
  if (!isKnown(ceiling)) return ceiling;
  const evaluate = (moved: Bar): number | null => {
    const found = barCeiling(moved);
    return isKnown(found) ? found.forceN : null;
  };
  return figureWithDoubts(evaluate, bar, BAR_DOUBTS, 'bar-ceiling') ?? notKnown('no-ceiling');
}

/**
 * The force at each hand, straight down, at which a bar that is pulled down outside its supports tips: the far end rises.
 * @returns "no-ceiling" when it cannot tip: the grips are between the supports or the far end is held down
 */
export function barTippingFigure(bar: Bar): LoadValue {
  const evaluate = (moved: Bar): number | null => {
    const atRest = barReactions(moved, 0);
    const perNewton = barReactions(moved, -1);
    const forces = ENDS.flatMap((end, index) => {
      const relief = atRest[end] - perNewton[end];
      return moved.heldDown[index] === true || relief < LEAST_RELIEF
        ? []
        : [Math.max(0, atRest[end]) / relief];
    });
    return forces.length === 0 ? null : Math.min(...forces);
  };
  return figureWithDoubts(evaluate, bar, BAR_DOUBTS, 'bar-tipping-force') ?? notKnown('no-ceiling');
}

/** One place of the grip and what the bar gives there to each hand. */
export interface GripCeiling {
  readonly placeM: number;
  readonly ceilingN: number | null;
}

/**
 * How the ceiling changes when the middle of the grips moves from the bar's left end to its right end, in even steps; the distance
 * between two hands is kept. ceilingN is null where the bar is held down or a hand would leave the bar.
 * @param steps - at least 1
 */
export function ceilingAlongBar(bar: Bar, steps: number): GripCeiling[] {
  const centreM = bar.gripsM.reduce((sum, placeM) => sum + placeM, 0) / bar.gripsM.length;
  return Array.from({ length: steps + 1 }, (_, step) => {
    const placeM = (step / steps) * bar.lengthM;
    const gripsM = bar.gripsM.map((gripM) => gripM - centreM + placeM);
    const onBar = gripsM.every((gripM) => gripM >= 0 && gripM <= bar.lengthM);
    const ceiling = onBar ? barCeiling({ ...bar, gripsM }) : null;
    return { placeM, ceilingN: ceiling !== null && isKnown(ceiling) ? ceiling.forceN : null };
  });
}

/**
 * The most that a hold on this bar can ask of the elbow flexors of one arm, newton metres: the ceiling's force at the grip of
 * a hanging upper arm, and the weight of the forearm. How much of it is used, nobody sees: effort is asked.
 * @param flexionDeg - the angle of the hold
 */
export function barHoldMoment(bar: Bar, person: LoadPerson, flexionDeg: number): LoadValue {
  const ceiling = barCeilingFigure(bar);
  if (!isKnown(ceiling)) return ceiling;
  const leverM = armLengths(person).elbowToGripM * Math.sin(toRadians(flexionDeg));
  const { value, least, most } = scaled(ceiling, leverM);
  const lengthDoubt = BODY_DOUBT.forearmLengthShare * value;
  const byBar = {
    value,
    least: value - Math.hypot(value - least, lengthDoubt),
    most: value + Math.hypot(most - value, lengthDoubt),
    of: 'bar-hold-moment',
  } as const;
  return independentSum([byBar, forearmWeightFigure(person, flexionDeg)], 'bar-hold-moment');
}
