import { createWander, type SeededRandom } from '../seeded-random.ts';
import type { ArmAngles, Posture } from '../skeleton.ts';

/** Small motions that a living body always makes; degrees and metres as named. */
export interface Life {
  readonly elbowDeg: (timeS: number) => number;
  readonly shoulderDeg: (timeS: number) => number;
  readonly trunkDeg: (timeS: number) => number;
  readonly swayM: (timeS: number) => number;
  readonly headTurnDeg: (timeS: number) => number;
  readonly headNodDeg: (timeS: number) => number;
  readonly breath: (timeS: number) => number;
}

/** How large the small motions are at most. */
export interface LifeSizes {
  readonly tremorDeg: number;
  readonly unsteadinessDeg: number;
  readonly shoulderDeg: number;
  readonly trunkDeg: number;
  readonly swayM: number;
  readonly headTurnDeg: number;
  readonly headNodDeg: number;
}

/**
 * Common experience, no source: postural sway under 1 cm, a tremor of a tenth of a degree over a slow wander of half
 * a degree.
 */
const USUAL_SIZES: LifeSizes = {
  tremorDeg: 0.1,
  unsteadinessDeg: 0.7,
  shoulderDeg: 1.2,
  trunkDeg: 0.9,
  swayM: 0.007,
  headTurnDeg: 9,
  headNodDeg: 5,
};

/** Seeded small life. A tremor near 8 Hz, a breath every four seconds: common experience, no source. */
export function createLife(random: SeededRandom, sizes: LifeSizes = USUAL_SIZES): Life {
  const wander = (name: string, amplitude: number, frequencyHz: number) =>
    createWander(random.fork(name), amplitude, frequencyHz);
  const tremor = wander('tremor', sizes.tremorDeg, 8);
  const unsteadiness = wander('unsteadiness', sizes.unsteadinessDeg, 0.35);
  return {
    elbowDeg: (timeS) => tremor(timeS) + unsteadiness(timeS),
    shoulderDeg: wander('shoulder', sizes.shoulderDeg, 0.3),
    trunkDeg: wander('trunk', sizes.trunkDeg, 0.28),
    swayM: wander('sway', sizes.swayM, 0.3),
    headTurnDeg: wander('head turn', sizes.headTurnDeg, 0.12),
    headNodDeg: wander('head nod', sizes.headNodDeg, 0.17),
    breath: wander('breath', 1, 0.26),
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
