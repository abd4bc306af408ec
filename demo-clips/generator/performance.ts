import type { Side } from './body.ts';
import type { PlannedRepetition } from './motion-script.ts';
import type { Posture } from './skeleton.ts';
import type { Vec3 } from './vector.ts';

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
