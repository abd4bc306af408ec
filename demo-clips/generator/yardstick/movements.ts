import type { Body, BodyOutline, Side } from '../body.ts';
import type { Habit } from '../exercises/habit.ts';
import { createStandingCurl, type CurlStyle } from '../exercises/free-curl.ts';
import { createHold, STEP_UP_S, type HoldStyle } from '../exercises/hold.ts';
import { barFor, createMixedPull, type MixedPullStyle } from '../exercises/mixed-pull.ts';
import { createPullOfShares, type PullOfSharesStyle } from '../exercises/pull-of-shares.ts';
import type { ScriptStep } from '../motion-script.ts';
import type { Performance } from '../performance.ts';
import type { SeededRandom } from '../seeded-random.ts';

/** What is done, drawn by chance, and the stretches of it that pictures are drawn of. */
export interface DrawnMovement {
  readonly perform: (body: Body, random: SeededRandom) => Performance;
  /** Bends that are no repetitions: each movement up or down, in seconds. */
  readonly unloadedS: readonly Stretch[];
  /** Time on the bar of a hold. */
  readonly holdS: Stretch | null;
}

/** From and to, in seconds. */
export type Stretch = readonly [number, number];

const REPETITIONS = 5;

/**
 * The elbow of a heavier person stays further out. The limits of this and of all that follows are common experience,
 * no source.
 */
function drawAbductionDeg(random: SeededRandom, { bodyMassIndex }: BodyOutline): number {
  return random.between(2 + 0.5 * Math.max(0, bodyMassIndex - 23), 20);
}

function drawHabit(random: SeededRandom): Habit {
  return {
    life: {
      tremorDeg: random.between(0.05, 0.5),
      unsteadinessDeg: random.between(0.3, 1.5),
      shoulderDeg: random.between(0.6, 3),
      trunkDeg: random.between(0.4, 2),
      swayM: random.between(0.003, 0.015),
      headTurnDeg: random.between(3, 28),
      headNodDeg: random.between(2, 12),
    },
    // Together at most 2 cm.
    scapula: {
      forwardAtRightAngleM: random.between(0, 0.012),
      upAtRightAngleM: random.between(0, 0.007),
      forwardOverSetM: random.between(-0.005, 0.005),
      upOverSetM: random.between(-0.005, 0.005),
    },
  };
}

/** Tempo of a set and rests about it; the range is each exercise's own. */
const drawTempo = (random: SeededRandom) => {
  const [lift, lower] = [random.between(0.9, 2), random.between(1.5, 3.6)];
  return {
    count: REPETITIONS,
    leadInS: random.between(0.8, 1.5),
    leadOutS: random.between(0.8, 1.4),
    liftS: [lift, 1.3 * lift],
    lowerS: [lower, 1.3 * lower],
  } as const;
};

/** Rotation of the forearm at the straight and at the bent end: still somewhere in the whole range, or turning up. */
function drawForearmRotationDeg(random: SeededRandom): [number, number] {
  const still = random.between(-75, 85);
  const turning: [number, number] = [random.between(-75, 30), random.between(45, 85)];
  return random.pick([[still, still + random.between(-5, 5)], turning]);
}

/** A standing curl of one arm, with a dumbbell or against a band that is fixed low, ahead or to the side. */
export function drawStandingCurl(
  random: SeededRandom,
  outline: BodyOutline,
  exercise: 'band-curl' | 'free-curl',
  side: Side,
): DrawnMovement {
  const [anchorX, anchorOutM] = [random.between(0.3, 0.75), random.between(-0.1, 0.3)];
  const straightLeanDeg = random.between(-1, 6);
  const style: CurlStyle = {
    plan: {
      ...drawTempo(random),
      lowDeg: random.between(5, 25),
      highDeg: random.between(110, 142),
      shoulderDominant: false,
    },
    equipment: (which, { lengths }) => {
      if (exercise === 'free-curl') return { dumbbell: which };
      const out = lengths.shoulderHalfWidth + anchorOutM;
      return { band: { hand: which, anchor: [anchorX, 0.1, which === 'right' ? out : -out] } };
    },
    forearmRotationDeg: drawForearmRotationDeg(random),
    shoulderTravelDeg: random.between(0, 20),
    humeralRotationDeg: random.between(-5, 20),
    shoulderAbductionDeg: drawAbductionDeg(random, outline),
    trunkLeanDeg: [straightLeanDeg, straightLeanDeg + random.between(-8, 3)],
    habit: drawHabit(random),
  };
  return {
    perform: (body, own) => createStandingCurl(body, side, style, own),
    unloadedS: [],
    holdS: null,
  };
}

/** Two slow bends with empty hands, then a hold near a right angle that wanders a little and leaves the range at times. */
export function drawHold(random: SeededRandom, outline: BodyOutline): DrawnMovement {
  const hangDeg = random.between(5, 18);
  const hangS = random.between(0.8, 1.4);
  const bends = [0, 1].flatMap((): ScriptStep[] => [
    { toDeg: random.between(112, 138), durationS: random.between(1.8, 3) },
    { toDeg: hangDeg, durationS: random.between(1.8, 3) },
  ]);
  const bendS = random.between(1.4, 2.2);
  const holdDeg = random.between(80, 100);
  const onTheBar = [0, 1, 2, 3].map((): ScriptStep => {
    const farDeg = random.pick([0, 0, -18]);
    return { toDeg: holdDeg + farDeg + random.between(-6, 6), durationS: random.between(2.5, 5) };
  });
  const style: HoldStyle = {
    hangDeg,
    hangS,
    bendS,
    holdDeg,
    onTheBar,
    letGoS: random.between(1.1, 1.6),
    unloadedBends: bends,
    shoulderAbductionDeg: drawAbductionDeg(random, outline),
    gripOutM: outline.statureM * random.between(0, 0.04),
    habit: drawHabit(random),
  };
  const unloadedS = stretches(hangS, bends);
  const gripS = (unloadedS.at(-1)?.[1] ?? hangS) + STEP_UP_S + bendS;
  const holdS: Stretch = [gripS, stretches(gripS, onTheBar).at(-1)?.[1] ?? gripS];
  return { perform: (body, own) => createHold(body, style, own), unloadedS, holdS };
}

function stretches(fromS: number, steps: readonly ScriptStep[]): Stretch[] {
  let timeS = fromS;
  return steps.map(({ durationS }) => {
    const start = timeS;
    timeS += durationS;
    return [start, timeS];
  });
}

/** A pull at a fixed bar, between a strict body-moving curl (mixture 0) and a row (1). */
export function drawBodyCurl(random: SeededRandom, outline: BodyOutline, mixture: number): DrawnMovement {
  const usual = barFor(mixture);
  const style: MixedPullStyle = {
    place: {
      reach: usual.reach + random.between(-0.015, 0.015),
      directionDeg: usual.directionDeg + random.between(-1.5, 1.5),
    },
    plan: { ...drawTempo(random), lowDeg: random.between(18, 32), highDeg: random.between(95, 115) },
    mixtures: Array.from({ length: REPETITIONS }, () =>
      Math.min(1, Math.max(0, mixture + random.between(-0.06, 0.06))),
    ),
    gripOutM: outline.statureM * random.between(0, 0.025),
    habit: drawHabit(random),
  };
  return { perform: (body, own) => createMixedPull(body, style, own), unloadedS: [], holdS: null };
}

/**
 * A pull at a fixed bar in which the shoulder does about this share of the work, 0 to 1. Under 0 it does none, and what
 * is missing is drawn anywhere from the strict curl to the mixture at which it would begin to.
 */
export function drawPullOfShare(
  random: SeededRandom,
  outline: BodyOutline,
  shoulderWorkShare: number,
): DrawnMovement {
  const style: PullOfSharesStyle = {
    placeOff: { reach: random.between(-0.015, 0.015), directionDeg: random.between(-1.5, 1.5) },
    plan: { ...drawTempo(random), lowDeg: random.between(18, 32), highDeg: random.between(95, 115) },
    workShares: Array.from({ length: REPETITIONS }, () => {
      const offset = random.between(-0.08, 0.08);
      return shoulderWorkShare < 0 ? 0 : Math.min(1, Math.max(0.02, shoulderWorkShare + offset));
    }),
    towardsWork: random.between(0, 1),
    gripOutM: outline.statureM * random.between(0, 0.025),
    habit: drawHabit(random),
  };
  return { perform: (body, own) => createPullOfShares(body, style, own), unloadedS: [], holdS: null };
}
