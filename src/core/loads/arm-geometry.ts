import {
  ELBOW_TO_GRIP_OVER_STATURE,
  SEGMENT_MASS,
  SEGMENT_OVER_STATURE,
} from '../kinematics/anthropometry.ts';
import { toRadians } from '../math/angle.ts';
import { figureWithin, type LoadFigure } from './load-figure.ts';
import { BODY_DOUBT, FREE_FALL } from './load-limits.ts';

/** Whose loads are worked out. Without a body mass, what needs a weight of the body is left out or not known. */
export interface LoadPerson {
  readonly statureCm: number;
  readonly bodyMassKg: number | null;
}

/** Lengths of one arm, metres. */
export interface ArmLengths {
  readonly upperArmM: number;
  readonly forearmM: number;
  /** From the elbow's axis to the middle of the closed grip. */
  readonly elbowToGripM: number;
}

/** A person's arm by the table of segment lengths; a table of means, off by several per cent for a person. */
export function armLengths({ statureCm }: LoadPerson): ArmLengths {
  const statureM = statureCm / 100;
  return {
    upperArmM: SEGMENT_OVER_STATURE.upperArm * statureM,
    forearmM: SEGMENT_OVER_STATURE.forearm * statureM,
    elbowToGripM: ELBOW_TO_GRIP_OVER_STATURE * statureM,
  };
}

/**
 * Moment with which forearm and hand, by their own weight, stretch the elbow of a hanging upper arm, newton metres: 0
 * straight, most with the forearm level. Source: SEGMENT_MASS.
 * @returns 0 without a body mass
 */
export function forearmWeightMomentNm(person: LoadPerson, flexionDeg: number): number {
  const { weight, centre } = SEGMENT_MASS.forearmWithHand;
  const leverM = centre * armLengths(person).forearmM * Math.sin(toRadians(flexionDeg));
  return weight * (person.bodyMassKg ?? 0) * FREE_FALL * leverM;
}

/** forearmWeightMomentNm with the doubt of the segments' table. */
export function forearmWeightFigure(person: LoadPerson, flexionDeg: number): LoadFigure {
  return figureWithin(
    forearmWeightMomentNm(person, flexionDeg),
    Math.hypot(BODY_DOUBT.segmentMassShare, BODY_DOUBT.forearmLengthShare),
    'forearm-weight-moment',
  );
}
