import { otherSide, type Body, type Side } from '../body.ts';
import { createMotionScript, planRepetitions, type RepetitionPlan } from '../motion-script.ts';
import {
  createLife,
  FLAT_FEET,
  standingAnkles,
  standingHipHeight,
  type Equipment,
  type Life,
  type Performance,
} from '../performance.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { bySide, type ArmAngles, type Posture } from '../skeleton.ts';
import type { Vec3 } from '../vector.ts';

/** How a standing curl with a free hand is done. */
export interface CurlStyle {
  readonly plan: RepetitionPlan;
  readonly equipment: (side: Side, body: Body) => Equipment;
  /** Supination at the straight and at the bent end. */
  readonly forearmRotationDeg: readonly [number, number];
  /** How far the upper arm travels forward over the full bend. */
  readonly shoulderTravelDeg: number;
  /** Turn of the upper arm that brings the bent forearm inward. */
  readonly humeralRotationDeg: number;
}

/** A standing curl of one arm; the other hangs. Trunk and upper arm move a little, as they do. */
export function createStandingCurl(
  body: Body,
  side: Side,
  style: CurlStyle,
  random: SeededRandom,
): Performance {
  const { steps, repetitions } = planRepetitions(random.fork('repetitions'), style.plan);
  const script = createMotionScript(style.plan.lowDeg, steps);
  const life = createLife(random.fork('life'));
  const ankles = standingAnkles(body, 0, random.between(-0.05, 0.05));
  const { lowDeg, highDeg } = style.plan;
  const [straightRotation, bentRotation] = style.forearmRotationDeg;
  return {
    durationS: script.durationS,
    repetitions,
    equipment: style.equipment(side, body),
    postureAt(timeS) {
      const plannedDeg = script.valueAt(timeS);
      const share = (plannedDeg - lowDeg) / (highDeg - lowDeg);
      const working: ArmAngles = {
        shoulderFlexionDeg: 2 + style.shoulderTravelDeg * share + life.shoulderDeg(timeS),
        shoulderAbductionDeg: 7,
        humeralRotationDeg: style.humeralRotationDeg,
        elbowFlexionDeg: plannedDeg + life.elbowDeg(timeS),
        forearmRotationDeg: straightRotation + (bentRotation - straightRotation) * share,
      };
      const resting = hangingArm(life, timeS);
      const arms = bySide((which) => (which === otherSide(side) ? resting : working));
      const midHip: Vec3 = [-0.004 - 0.008 * share + life.swayM(timeS), standingHipHeight(body), 0];
      const trunkLeanDeg = 2 - 2.5 * share + life.trunkDeg(timeS);
      return { midHip, trunkLeanDeg, arms, ankles, footPitchDeg: FLAT_FEET, ...headAndBreath(life, timeS) };
    },
  };
}

/** An arm that hangs without a task. */
export function hangingArm(life: Life, timeS: number): ArmAngles {
  return {
    shoulderFlexionDeg: 1 - 0.7 * life.shoulderDeg(timeS),
    shoulderAbductionDeg: 8,
    humeralRotationDeg: 15,
    elbowFlexionDeg: 14 + life.elbowDeg(timeS + 50),
    forearmRotationDeg: -10,
  };
}

/** The head's small motions and the breath, the same in every exercise. */
export function headAndBreath(
  life: Life,
  timeS: number,
): Pick<Posture, 'headTurnDeg' | 'headNodDeg' | 'breath'> {
  return {
    headTurnDeg: life.headTurnDeg(timeS),
    headNodDeg: 4 + life.headNodDeg(timeS),
    breath: life.breath(timeS),
  };
}
