import type { Body, Side } from './body.ts';
import type { PlannedRepetition } from './motion-script.ts';
import type { Posture } from './skeleton.ts';
import type { Vec3 } from './vector.ts';
import { createWander, type SeededRandom } from './seeded-random.ts';

/** What one person does over time. */
export interface Performance {
  readonly durationS: number;
  readonly repetitions: readonly PlannedRepetition[];
  /** Null while the person is not in the room. */
  postureAt(timeS: number): Posture | null;
  readonly equipment: Equipment;
}

/** A bar across the figure's path, held at both ends. */
export interface Bar {
  readonly centre: Vec3;
  readonly halfLengthM: number;
  readonly radiusM: number;
}

export interface Equipment {
  readonly bar?: Bar;
  /** A dumbbell in this hand. */
  readonly dumbbell?: Side;
  /** An elastic band from this hand to a fixed point. */
  readonly band?: { readonly hand: Side; readonly anchor: Vec3 };
}

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

/** Ankles under the hips, one foot slightly ahead. */
export function standingAnkles(body: Body, x: number, aheadM = 0.03): Record<Side, Vec3> {
  const { ankleHeight, hipHalfWidth } = body.lengths;
  const half = hipHalfWidth + 0.02;
  return { left: [x + aheadM, ankleHeight, -half], right: [x - aheadM, ankleHeight, half] };
}

/** Height of the hip with the knees a little bent. */
export function standingHipHeight(body: Body): number {
  return body.lengths.ankleHeight + 0.985 * (body.lengths.thigh + body.lengths.shank);
}

export const FLAT_FEET: Readonly<Record<Side, number>> = { left: 0, right: 0 };
