import { otherSide, type Body, type Side } from '../body.ts';
import { createMotionScript, planRepetitions, type RepetitionPlan } from '../motion-script.ts';
import type { Equipment, Performance } from '../performance.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { bySide, UNMOVED_SHOULDER, type ArmAngles } from '../skeleton.ts';
import type { Vec3 } from '../vector.ts';
import { createLife, hangingArm, headAndBreath } from './life.ts';
import { habitualShift, type Habit } from './habit.ts';
import { FLAT_FEET, standingAnkles, standingHipHeight } from './standing.ts';

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
  /** Of the working arm; 7 where left out. */
  readonly shoulderAbductionDeg?: number;
  /** Lean of the trunk at the straight and at the bent end; 2 and -0.5 where left out. */
  readonly trunkLeanDeg?: readonly [number, number];
  readonly habit?: Habit;
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
  const { habit } = style;
  const life = createLife(random.fork('life'), habit?.life);
  const ankles = standingAnkles(body, 0, random.between(-0.05, 0.05));
  const { lowDeg, highDeg } = style.plan;
  const [straightLean, bentLean] = style.trunkLeanDeg ?? [2, -0.5];
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
        shoulderAbductionDeg: style.shoulderAbductionDeg ?? 7,
        humeralRotationDeg: style.humeralRotationDeg,
        elbowFlexionDeg: plannedDeg + life.elbowDeg(timeS),
        forearmRotationDeg: straightRotation + (bentRotation - straightRotation) * share,
      };
      const resting = hangingArm(life, timeS);
      const arms = bySide((which) => (which === otherSide(side) ? resting : working));
      const midHip: Vec3 = [-0.004 - 0.008 * share + life.swayM(timeS), standingHipHeight(body), 0];
      const trunkLeanDeg = straightLean + (bentLean - straightLean) * share + life.trunkDeg(timeS);
      const shift = habitualShift(habit, working.shoulderFlexionDeg, timeS / script.durationS);
      return {
        midHip,
        trunkLeanDeg,
        arms,
        shoulderShiftM: bySide((which) => (which === side ? shift : UNMOVED_SHOULDER)),
        ankles,
        footPitchDeg: FLAT_FEET,
        ...headAndBreath(life, timeS),
      };
    },
  };
}
