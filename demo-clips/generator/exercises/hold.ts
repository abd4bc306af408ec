import type { Body } from '../body.ts';
import {
  armSpanM,
  linkDirectionDeg,
  pointAlong,
  shoulderFlexionToReach,
  shoulderToGrip,
  type PlanePoint,
} from '../closed-chain.ts';
import { createMotionScript, minimumJerk, type ScriptStep } from '../motion-script.ts';
import type { Performance } from '../performance.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { bySide, type ArmAngles } from '../skeleton.ts';
import { createLife, headAndBreath } from './life.ts';
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
}

const NOMINAL_LEAN_DEG = 2;
const NOMINAL_SHOULDER_DEG = 4;

/**
 * An isometric hold with both hands under a bar that does not move. While the hands are on the bar a change of the
 * elbow angle is a change of the trunk's lean: the shoulder swings about the hip until the arms fit.
 */
export function createHold(body: Body, style: HoldStyle, random: SeededRandom): Performance {
  const { lengths } = body;
  const steps: ScriptStep[] = [
    { toDeg: style.hangDeg, durationS: style.hangS },
    { toDeg: style.holdDeg, durationS: style.bendS },
    ...style.onTheBar,
    { toDeg: style.hangDeg, durationS: style.letGoS },
    { toDeg: style.hangDeg, durationS: 1 },
  ];
  const script = createMotionScript(style.hangDeg, steps);
  const gripS = style.hangS + style.bendS;
  const letGoS = script.durationS - 1 - style.letGoS;
  const life = createLife(random.fork('life'));
  const ankles = standingAnkles(body, 0, random.between(-0.04, 0.04));
  const hipHeight = standingHipHeight(body);
  const bar = nominalGrip(body, style.holdDeg, hipHeight);
  const halfLengthM = 0.62;
  return {
    durationS: script.durationS,
    repetitions: [],
    equipment: { bar: { centre: [bar.x, bar.y, 0], halfLengthM, radiusM: 0.015 } },
    postureAt(timeS) {
      const elbowFlexionDeg = script.valueAt(timeS) + life.elbowDeg(timeS);
      const hip: PlanePoint = { x: 0.6 * life.swayM(timeS), y: hipHeight };
      // 0 with free hands, 1 on the bar: the last third of bending leads the hands to it.
      const leadS = style.bendS / 3;
      const onBar =
        minimumJerk((timeS - gripS + leadS) / leadS) * (1 - minimumJerk((timeS - letGoS) / leadS));
      const freeLeanDeg = NOMINAL_LEAN_DEG + life.trunkDeg(timeS);
      const spanM = armSpanM(lengths, elbowFlexionDeg);
      let [trunkLeanDeg, shoulderFlexionDeg] = [freeLeanDeg, NOMINAL_SHOULDER_DEG + life.shoulderDeg(timeS)];
      if (onBar > 0) {
        const heldLeanDeg = linkDirectionDeg(hip, lengths.trunk, bar, spanM);
        const shoulder = pointAlong(hip, heldLeanDeg, lengths.trunk);
        const heldDeg = shoulderFlexionToReach(lengths, shoulder, heldLeanDeg, elbowFlexionDeg, bar);
        trunkLeanDeg += onBar * (heldLeanDeg - trunkLeanDeg);
        shoulderFlexionDeg += onBar * (heldDeg - shoulderFlexionDeg);
      }
      const arm: ArmAngles = {
        shoulderFlexionDeg,
        shoulderAbductionDeg: 0,
        humeralRotationDeg: 0,
        elbowFlexionDeg,
        forearmRotationDeg: 20 + 62 * Math.max(onBar, minimumJerk((timeS - style.hangS) / style.bendS)),
      };
      const arms = bySide(() => arm);
      const midHip = [hip.x, hip.y, 0] as const;
      return { midHip, trunkLeanDeg, arms, ankles, footPitchDeg: FLAT_FEET, ...headAndBreath(life, timeS) };
    },
  };
}

/** Where the grip is when the person stands easily with the elbow at the angle of the hold: the bar goes there. */
function nominalGrip(body: Body, holdDeg: number, hipHeight: number): PlanePoint {
  const shoulder = pointAlong({ x: 0, y: hipHeight }, NOMINAL_LEAN_DEG, body.lengths.trunk);
  // Seen from the room, the trunk's lean takes the hanging arm back by as much.
  const arm = shoulderToGrip(body.lengths, NOMINAL_SHOULDER_DEG - NOMINAL_LEAN_DEG, holdDeg);
  return { x: shoulder.x + arm.x, y: shoulder.y + arm.y };
}
