import { SEGMENT_OVER_STATURE, SHOULDER_HEIGHT_OVER_STATURE } from '../kinematics/anthropometry.ts';
import { toRadians } from '../math/angle.ts';
import { armLengths, type LoadPerson } from './arm-geometry.ts';

/**
 * How high a bar lies above the floor, metres, for the hand to be underneath it at an angle of the elbow, standing upright
 * with the upper arm hanging. By the table of segment lengths, so off by some centimetres for a person: the measured
 * angle decides.
 */
export function holdBarHeightM(person: LoadPerson, flexionDeg: number): number {
  const statureM = person.statureCm / 100;
  const elbowM = (SHOULDER_HEIGHT_OVER_STATURE - SEGMENT_OVER_STATURE.upperArm) * statureM;
  return elbowM - armLengths(person).elbowToGripM * Math.cos(toRadians(flexionDeg));
}
