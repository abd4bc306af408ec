import type { Body } from '../body.ts';
import {
  armSpanM,
  gripAbductionDeg,
  linkDirectionDeg,
  pointAlong,
  shoulderFlexionToReach,
  shoulderToGrip,
  trunkLink,
  type PlanePoint,
} from '../closed-chain.ts';
import { createMotionScript, minimumJerk, type ScriptStep } from '../motion-script.ts';
import type { Performance } from '../performance.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { bySide, type ArmAngles } from '../skeleton.ts';
import { habitualShift, type Habit } from './habit.ts';
import { createLife, headAndBreath } from './life.ts';
import { createStepUp } from './step-up.ts';
import { FLAT_FEET, standingAnkles, standingHipHeight } from './standing.ts';

/** A hold as scripted: elbow angles and times. */
export interface HoldStyle {
  readonly hangDeg: number;
  readonly hangS: number;
  readonly bendS: number;
  /** From the moment the hands are on the bar. */
  readonly onTheBar: readonly ScriptStep[];
  readonly holdDeg: number;
  readonly letGoS: number;
  /** Bends with empty hands, done a step behind the bar before the hands go to it. */
  readonly unloadedBends?: readonly ScriptStep[];
  /** Of the free arms. */
  readonly shoulderAbductionDeg?: number;
  /** How much further out than the shoulders the hands hold the bar. */
  readonly gripOutM?: number;
  readonly habit?: Habit;
}

/** From the end of the unloaded bends until the person stands at the bar and hangs the arms. */
export const STEP_UP_S = 1.6;

const NOMINAL_LEAN_DEG = 2;
const NOMINAL_SHOULDER_DEG = 4;

/**
 * An isometric hold with both hands under a bar that does not move. While the hands are on the bar a change of the
 * elbow angle is a change of the trunk's lean: the shoulder swings about the hip until the arms fit.
 */
export function createHold(body: Body, style: HoldStyle, random: SeededRandom): Performance {
  const { lengths } = body;
  const { habit, unloadedBends = [], gripOutM = 0 } = style;
  const bendsEndS = style.hangS + unloadedBends.reduce((sum, { durationS }) => sum + durationS, 0);
  const steppedUpS = bendsEndS + (unloadedBends.length === 0 ? 0 : STEP_UP_S);
  const steps: ScriptStep[] = [
    { toDeg: style.hangDeg, durationS: style.hangS },
    ...unloadedBends,
    { toDeg: style.hangDeg, durationS: steppedUpS - bendsEndS },
    { toDeg: style.holdDeg, durationS: style.bendS },
    ...style.onTheBar,
    { toDeg: style.hangDeg, durationS: style.letGoS },
    { toDeg: style.hangDeg, durationS: 1 },
  ];
  const script = createMotionScript(style.hangDeg, steps);
  const gripS = steppedUpS + style.bendS;
  const letGoS = script.durationS - 1 - style.letGoS;
  const life = createLife(random.fork('life'), habit?.life);
  const ankles = standingAnkles(body, 0, random.between(-0.04, 0.04));
  const hipHeight = standingHipHeight(body);
  const bar = nominalGrip(body, style.holdDeg, hipHeight, gripOutM);
  const stepUp = unloadedBends.length === 0 ? null : createStepUp(ankles, bendsEndS, steppedUpS);
  const halfLengthM = 0.62;
  // The palms turn up with each bend.
  const palmUp = (timeS: number): number =>
    timeS < bendsEndS
      ? minimumJerk((script.valueAt(timeS) - style.hangDeg) / (style.holdDeg - style.hangDeg))
      : minimumJerk((timeS - steppedUpS) / style.bendS);
  return {
    durationS: script.durationS,
    repetitions: [],
    equipment: { bar: { centre: [bar.x, bar.y, 0], halfLengthM, radiusM: 0.015 } },
    postureAt(timeS) {
      const elbowFlexionDeg = script.valueAt(timeS) + life.elbowDeg(timeS);
      const stance = stepUp?.(timeS) ?? { hipBehindM: 0, hipLowerM: 0, ankles };
      const hip: PlanePoint = {
        x: 0.6 * life.swayM(timeS) - stance.hipBehindM,
        y: hipHeight - stance.hipLowerM,
      };
      // 0 with free hands, 1 on the bar: the last third of bending leads the hands to it.
      const leadS = style.bendS / 3;
      const onBar =
        minimumJerk((timeS - gripS + leadS) / leadS) * (1 - minimumJerk((timeS - letGoS) / leadS));
      const freeLeanDeg = NOMINAL_LEAN_DEG + life.trunkDeg(timeS);
      const shift = habitualShift(habit, NOMINAL_SHOULDER_DEG, timeS / script.durationS);
      let shoulderAbductionDeg = style.shoulderAbductionDeg ?? 0;
      let [trunkLeanDeg, shoulderFlexionDeg] = [freeLeanDeg, NOMINAL_SHOULDER_DEG + life.shoulderDeg(timeS)];
      if (onBar > 0) {
        const spanM = armSpanM(lengths, elbowFlexionDeg, gripOutM);
        const link = trunkLink(lengths, shift);
        const linkDeg = linkDirectionDeg(hip, link.lengthM, bar, spanM);
        const shoulder = pointAlong(hip, linkDeg, link.lengthM);
        const heldLeanDeg = linkDeg - link.aheadDeg;
        const heldDeg = shoulderFlexionToReach(
          lengths,
          shoulder,
          heldLeanDeg,
          elbowFlexionDeg,
          bar,
          gripOutM,
        );
        const heldAbductionDeg = gripAbductionDeg(lengths, elbowFlexionDeg, gripOutM);
        trunkLeanDeg += onBar * (heldLeanDeg - trunkLeanDeg);
        shoulderFlexionDeg += onBar * (heldDeg - shoulderFlexionDeg);
        shoulderAbductionDeg += onBar * (heldAbductionDeg - shoulderAbductionDeg);
      }
      const arm: ArmAngles = {
        shoulderFlexionDeg,
        shoulderAbductionDeg,
        humeralRotationDeg: 0,
        elbowFlexionDeg,
        forearmRotationDeg: 20 + 62 * Math.max(onBar, palmUp(timeS)),
      };
      const arms = bySide(() => arm);
      const midHip = [hip.x, hip.y, 0] as const;
      return {
        midHip,
        trunkLeanDeg,
        arms,
        shoulderShiftM: bySide(() => shift),
        ankles: stance.ankles,
        footPitchDeg: FLAT_FEET,
        ...headAndBreath(life, timeS),
      };
    },
  };
}

/** Where the grip is when the person stands easily with the elbow at the angle of the hold: the bar goes there. */
function nominalGrip(body: Body, holdDeg: number, hipHeight: number, gripOutM: number): PlanePoint {
  const shoulder = pointAlong({ x: 0, y: hipHeight }, NOMINAL_LEAN_DEG, body.lengths.trunk);
  // Seen from the room, the trunk's lean takes the hanging arm back by as much.
  const arm = shoulderToGrip(body.lengths, NOMINAL_SHOULDER_DEG - NOMINAL_LEAN_DEG, holdDeg, gripOutM);
  return { x: shoulder.x + arm.x, y: shoulder.y + arm.y };
}
