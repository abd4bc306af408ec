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

/**
 * Seeded small life. Sizes are common experience, no source: postural sway under 1 cm, a tremor of a tenth of a
 * degree near 8 Hz over a slow wander of half a degree, a breath every four seconds.
 */
export function createLife(random: SeededRandom): Life {
  const wander = (name: string, amplitude: number, frequencyHz: number) =>
    createWander(random.fork(name), amplitude, frequencyHz);
  const tremor = wander('tremor', 0.1, 8);
  const unsteadiness = wander('unsteadiness', 0.7, 0.35);
  return {
    elbowDeg: (timeS) => tremor(timeS) + unsteadiness(timeS),
    shoulderDeg: wander('shoulder', 1.2, 0.3),
    trunkDeg: wander('trunk', 0.9, 0.28),
    swayM: wander('sway', 0.007, 0.3),
    headTurnDeg: wander('head turn', 9, 0.12),
    headNodDeg: wander('head nod', 5, 0.17),
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
