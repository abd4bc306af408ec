import { toRadians } from '../math/angle.ts';
import { interpolateTable } from '../math/statistics.ts';

/**
 * Flexion moment arms over flexion in radians, centimetres, rising powers: Pigeon, Yahia & Feldman 1996, J Biomech
 * 29:1365-70, as printed at biomed.bas.bg (MuscleArms.html).
 */
const PIGEON_CM = {
  biceps: [1.963, -1.44, 3.031, 0.887, -1.418, 0.285],
  brachialis: [1.554, 0.0813, -1.689, 3.523, -1.811, 0.276],
  brachioradialis: [2.015, -0.458, 3.058, -1.081, 0.159, -0.0187],
} as const;

export type Flexor = keyof typeof PIGEON_CM;

/**
 * Second, independent curve of the biceps, metres: r_elbowflexors.mot (BMClab/BMC), model of Holzbaur, Murray & Delp 2005.
 * It differs from the polynomial by up to 0.7 cm between 30 and 60 deg and agrees at the peak.
 */
const MODEL_BICEPS_ARM = {
  flexionDeg: [0, 30.2, 60.4, 90.6, 99.8, 119.5, 130],
  armM: [0.00938, 0.02658, 0.0407, 0.04883, 0.04939, 0.04584, 0.04031],
} as const;

/** A flexor's moment arm by Pigeon's polynomial, metres; flexion 0 to 135 deg. */
export function pigeonArmM(flexor: Flexor, flexionDeg: number): number {
  const a = toRadians(flexionDeg);
  return PIGEON_CM[flexor].reduceRight((sum: number, coefficient) => sum * a + coefficient, 0) / 100;
}

/** The biceps' moment arm by the model's table, metres; held at its ends outside 0 to 130 deg. */
export function modelBicepsArmM(flexionDeg: number): number {
  return interpolateTable(MODEL_BICEPS_ARM.flexionDeg, MODEL_BICEPS_ARM.armM, flexionDeg);
}
