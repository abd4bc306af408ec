import type { Body, BodyLengths } from '../body.ts';
import {
  armSpanM,
  hangFromBar,
  linkDirectionDeg,
  pointAlong,
  shoulderFlexionToReach,
  type PlanePoint,
} from '../closed-chain.ts';
import { createMotionScript, planRepetitions, type RepetitionPlan } from '../motion-script.ts';
import type { Performance } from '../performance.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { bySide, type ArmAngles } from '../skeleton.ts';
import { createLife, headAndBreath } from './life.ts';
import { FLAT_FEET, standingAnkles } from './standing.ts';

/** Where the bar is, seen from the ankles. */
export interface BarPlace {
  /** Ankle to bar as a fraction of stature. */
  readonly reach: number;
  /** Direction from the ankle, from the vertical; negative behind the ankle, where the leaning body is. */
  readonly directionDeg: number;
}

/** Lateral room between the straight leg and its full length, so that the ankles stay in reach. */
const STRAIGHT_LEG = 0.985;

/** Bar of a set of rows and of strict curls that suits their kinematics, for a body of usual proportions. */
export const ROW_BAR: BarPlace = { reach: 0.568, directionDeg: -13 };
export const CURL_BAR: BarPlace = { reach: 0.843, directionDeg: -12 };

/** The ankles stand this far ahead, so that the leaning body lies about the middle of the room. */
export const ANKLE_AHEAD_M = 0.42;
/** The hands hold the bar from below: nearly full supination. */
export const UNDERHAND_DEG = 84;

interface ChainState {
  readonly hip: PlanePoint;
  readonly trunkLeanDeg: number;
  readonly shoulderFlexionDeg: number;
}

/** What closes the chain besides the elbow: how the shoulder is held and how far the knees give way. */
interface PulledJoints {
  readonly shoulderFlexionDeg: number;
  readonly ankleToHipM: number;
}

/** Shoulder and legs of a strict curl: the upper arm keeps its angle but for a few degrees, the knees give way. */
export function curlJoints(lengths: BodyLengths, share: number, restlessDeg: number): PulledJoints {
  return {
    shoulderFlexionDeg: 80 - 3 * share + 0.6 * restlessDeg,
    ankleToHipM: (lengths.thigh + lengths.shank) * (STRAIGHT_LEG - 0.18 * share),
  };
}

/** Shoulder, legs and trunk of a row: a body as straight as a board turns about the ankles until the arms fit. */
export function rowJoints(
  lengths: BodyLengths,
  elbowFlexionDeg: number,
  ankle: PlanePoint,
  bar: PlanePoint,
): PulledJoints & ChainState {
  const ankleToHipM = STRAIGHT_LEG * (lengths.thigh + lengths.shank);
  const spanM = armSpanM(lengths, elbowFlexionDeg);
  const trunkLeanDeg = linkDirectionDeg(ankle, ankleToHipM + lengths.trunk, bar, spanM);
  const hip = pointAlong(ankle, trunkLeanDeg, ankleToHipM);
  const shoulder = pointAlong(hip, trunkLeanDeg, lengths.trunk);
  const shoulderFlexionDeg = shoulderFlexionToReach(lengths, shoulder, trunkLeanDeg, elbowFlexionDeg, bar);
  return { hip, trunkLeanDeg, shoulderFlexionDeg, ankleToHipM };
}

/**
 * The strict body-moving curl: the hands stay on the bar, the elbow bends, the upper arm keeps its angle to the trunk
 * (but for a few degrees), and the trunk comes to the hands while the knees give way.
 */
export function createBodyCurl(
  body: Body,
  place: BarPlace,
  plan: RepetitionPlan,
  random: SeededRandom,
): Performance {
  const { lengths } = body;
  return createBarPull(body, place, plan, random, (elbowFlexionDeg, share, ankle, bar, restlessDeg) => {
    const { shoulderFlexionDeg, ankleToHipM } = curlJoints(lengths, share, restlessDeg);
    const angles = { shoulderFlexionDeg, elbowFlexionDeg };
    return { ...hangFromBar(lengths, ankle, bar, angles, ankleToHipM), shoulderFlexionDeg };
  });
}

/**
 * The same turned into a row: the body stays straight as a board and pivots at the ankles, so the shoulder extends
 * and takes the elbow behind the trunk.
 */
export function createRow(
  body: Body,
  place: BarPlace,
  plan: RepetitionPlan,
  random: SeededRandom,
): Performance {
  return createBarPull(body, place, plan, random, (elbowFlexionDeg, _share, ankle, bar) =>
    rowJoints(body.lengths, elbowFlexionDeg, ankle, bar),
  );
}

function createBarPull(
  body: Body,
  place: BarPlace,
  plan: RepetitionPlan,
  random: SeededRandom,
  solve: (
    elbowFlexionDeg: number,
    share: number,
    ankle: PlanePoint,
    bar: PlanePoint,
    restlessDeg: number,
  ) => ChainState,
): Performance {
  const { steps, repetitions } = planRepetitions(random.fork('repetitions'), plan);
  const script = createMotionScript(plan.lowDeg, steps);
  const life = createLife(random.fork('life'));
  const ankle: PlanePoint = { x: ANKLE_AHEAD_M, y: body.lengths.ankleHeight };
  const ankles = standingAnkles(body, ankle.x, 0);
  const bar = pointAlong(ankle, place.directionDeg, place.reach * body.statureM);
  return {
    durationS: script.durationS,
    repetitions,
    equipment: { bar: { centre: [bar.x, bar.y, 0], halfLengthM: 0.6, radiusM: 0.016 } },
    postureAt(timeS) {
      const plannedDeg = script.valueAt(timeS);
      const share = (plannedDeg - plan.lowDeg) / (plan.highDeg - plan.lowDeg);
      const elbowFlexionDeg = plannedDeg + life.elbowDeg(timeS);
      const chain = solve(elbowFlexionDeg, share, ankle, bar, life.shoulderDeg(timeS));
      const arm: ArmAngles = {
        shoulderFlexionDeg: chain.shoulderFlexionDeg,
        shoulderAbductionDeg: 0,
        humeralRotationDeg: 0,
        elbowFlexionDeg,
        forearmRotationDeg: UNDERHAND_DEG,
      };
      const head = headAndBreath(life, timeS);
      return {
        midHip: [chain.hip.x, chain.hip.y, 0],
        trunkLeanDeg: chain.trunkLeanDeg,
        arms: bySide(() => arm),
        ankles,
        footPitchDeg: FLAT_FEET,
        ...head,
        // The head follows half of the trunk's lean.
        headNodDeg: head.headNodDeg + 0.5 * chain.trunkLeanDeg,
      };
    },
  };
}
