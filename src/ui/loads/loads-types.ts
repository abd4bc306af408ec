import type { Variant } from '../../core/exercises/exercise.ts';
import type { Band, Equipment } from '../../core/loads/equipment.ts';
import type { FlexionRange } from '../../core/loads/band-pull.ts';
import type { Side } from '../../core/pose/landmark.ts';

/** The person of the plan, as far as loads need them. */
export interface PersonOfLoads {
  readonly statureCm: number;
  readonly bodyMassKg: number | null;
  readonly treatedSide: Side;
}

/** Another exercise of the same plan, to stand beside in the demand chart. */
export interface LoadedPlanExercise {
  readonly name: string;
  readonly equipment: Equipment;
  readonly variant: Variant | null;
  /** Null: the usual one. */
  readonly range: FlexionRange | null;
}

/** A band of the user's and what it is called on screen. */
export interface NamedBand {
  readonly name: string;
  readonly band: Band;
}
