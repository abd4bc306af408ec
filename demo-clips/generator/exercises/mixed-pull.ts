import type { Body, BodyLengths } from '../body.ts';
import { gripAbductionDeg, hangFromBar, pointAlong, type PlanePoint } from '../closed-chain.ts';
import {
  createMotionScript,
  minimumJerk,
  planRepetitions,
  type PlannedRepetition,
  type RepetitionPlan,
} from '../motion-script.ts';
import type { Performance } from '../performance.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { bySide, type ArmAngles, type Posture } from '../skeleton.ts';
import {
  ANKLE_AHEAD_M,
  CURL_BAR,
  curlJoints,
  ROW_BAR,
  rowJoints,
  UNDERHAND_DEG,
  type BarPlace,
} from './bar-pull.ts';
import { habitualShift, type Habit } from './habit.ts';
import { createLife, headAndBreath } from './life.ts';
import { DOMINANT_WORK_SHARE, shoulderWorkShare } from './pull-work.ts';
import { FLAT_FEET, standingAnkles } from './standing.ts';

/** A pull at a fixed bar somewhere between a strict body-moving curl and a row. */
export interface MixedPullStyle {
  readonly place: BarPlace;
  /** Whether a repetition is shoulder-dominant follows from its work. */
  readonly plan: Omit<RepetitionPlan, 'shoulderDominant'>;
  /** 0 strict curl to 1 row, one for each repetition. */
  readonly mixtures: readonly number[];
  /** How much further out than the shoulders the hands hold the bar. */
  readonly gripOutM: number;
  readonly habit?: Habit;
}

const between = (curl: number, row: number, mixture: number): number => curl + (row - curl) * mixture;

/** The bar's place that suits a mixture: high for the curl, low for the row. */
export function barFor(mixture: number): BarPlace {
  return {
    reach: between(CURL_BAR.reach, ROW_BAR.reach, mixture),
    directionDeg: between(CURL_BAR.directionDeg, ROW_BAR.directionDeg, mixture),
  };
}

/**
 * A set of pulls whose kinematics go continuously from the strict curl (mixture 0) to the row (1): at each elbow angle
 * the angle of the shoulder and the give of the knees lie between what the two would have at this bar, and the chain
 * closes with them. The mixture stays the same throughout a repetition and changes in the rest before the next.
 *
 * Each repetition carries its shoulderWorkShare, and is shoulder-dominant when that is over DOMINANT_WORK_SHARE.
 * @throws RangeError when the bar is out of reach.
 */
export function createMixedPull(body: Body, style: MixedPullStyle, random: SeededRandom): Performance {
  const { lengths } = body;
  const { place, habit, gripOutM } = style;
  const plan: RepetitionPlan = { ...style.plan, shoulderDominant: false };
  const { steps, repetitions } = planRepetitions(random.fork('repetitions'), plan);
  const script = createMotionScript(plan.lowDeg, steps);
  const life = createLife(random.fork('life'), habit?.life);
  const ankle: PlanePoint = { x: ANKLE_AHEAD_M, y: lengths.ankleHeight };
  const ankles = standingAnkles(body, ankle.x, 0);
  const bar = pointAlong(ankle, place.directionDeg, place.reach * body.statureM);
  const postureAt = (timeS: number): Posture => {
    const plannedDeg = script.valueAt(timeS);
    const share = (plannedDeg - plan.lowDeg) / (plan.highDeg - plan.lowDeg);
    const elbowFlexionDeg = plannedDeg + life.elbowDeg(timeS);
    const mixture = mixtureAt(timeS, repetitions, style.mixtures);
    const held = mixedJoints(lengths, mixture, elbowFlexionDeg, share, ankle, bar, life.shoulderDeg(timeS));
    const { shoulderFlexionDeg, ankleToHipM } = held;
    const shift = habitualShift(habit, shoulderFlexionDeg, timeS / script.durationS);
    const angles = { shoulderFlexionDeg, elbowFlexionDeg };
    const chain = hangFromBar(lengths, ankle, bar, angles, ankleToHipM, gripOutM, shift);
    const arm: ArmAngles = {
      ...angles,
      shoulderAbductionDeg: gripAbductionDeg(lengths, elbowFlexionDeg, gripOutM),
      humeralRotationDeg: 0,
      forearmRotationDeg: UNDERHAND_DEG,
    };
    const head = headAndBreath(life, timeS);
    return {
      midHip: [chain.hip.x, chain.hip.y, 0],
      trunkLeanDeg: chain.trunkLeanDeg,
      arms: bySide(() => arm),
      shoulderShiftM: bySide(() => shift),
      ankles,
      footPitchDeg: FLAT_FEET,
      ...head,
      headNodDeg: head.headNodDeg + 0.5 * chain.trunkLeanDeg,
    };
  };
  return {
    durationS: script.durationS,
    repetitions: repetitions.map((repetition) => {
      const topS = repetition.endS - repetition.lowerS;
      const workShare = shoulderWorkShare(body, postureAt, repetition.startS, topS);
      const shoulderDominant = workShare > DOMINANT_WORK_SHARE;
      return { ...repetition, shoulderDominant, shoulderWorkShare: workShare };
    }),
    equipment: { bar: { centre: [bar.x, bar.y, 0], halfLengthM: 0.6, radiusM: 0.016 } },
    postureAt,
  };
}

function mixedJoints(
  lengths: BodyLengths,
  mixture: number,
  elbowFlexionDeg: number,
  share: number,
  ankle: PlanePoint,
  bar: PlanePoint,
  restlessDeg: number,
) {
  const curl = curlJoints(lengths, share, restlessDeg);
  const row = rowJoints(lengths, elbowFlexionDeg, ankle, bar);
  return {
    shoulderFlexionDeg: between(curl.shoulderFlexionDeg, row.shoulderFlexionDeg, mixture),
    ankleToHipM: between(curl.ankleToHipM, row.ankleToHipM, mixture),
  };
}

/** The repetition's own mixture, led over to the next one's in the rest between them. */
function mixtureAt(
  timeS: number,
  repetitions: readonly PlannedRepetition[],
  mixtures: readonly number[],
): number {
  let mixture = mixtures[0] ?? 0;
  for (let index = 1; index < repetitions.length; index++) {
    const restFromS = repetitions[index - 1]?.endS ?? 0;
    const restToS = repetitions[index]?.startS ?? restFromS;
    const next = mixtures[index] ?? mixture;
    mixture = between(mixture, next, minimumJerk((timeS - restFromS) / (restToS - restFromS)));
  }
  return mixture;
}
