import { PROFILE_SHAPES } from './movement-profile.ts';

/**
 * Log of the odds given beforehand to the minimum-jerk movement against each other shape: it is how practised movements
 * of one joint were found to go (Flash and Hogan 1985). The size is chosen for this tool: a clear trace overrules it.
 */
const MINIMUM_JERK_LOG_ODDS = 2;

/** Log likelihoods of the shapes, in the order of PROFILE_SHAPES; those of several repetitions are added. */
export interface ShapeEvidence {
  readonly bending: readonly number[];
  readonly lowering: readonly number[];
}

const BEFOREHAND = PROFILE_SHAPES.map((shape) => (shape === 'minimum-jerk' ? MINIMUM_JERK_LOG_ODDS : 0));

/** No repetition seen yet: what is thought of the shapes beforehand. */
export const NO_EVIDENCE: ShapeEvidence = { bending: BEFOREHAND, lowering: BEFOREHAND };

/**
 * One person lifts and lowers somewhat alike, so that each movement's trace speaks for the other's shape too, by this
 * share. Chosen on traces of known shape with noise: shapes are told apart by less than a degree.
 */
const OTHER_MOVEMENT_SHARE = 0.5;

/** What the traces of both movements say, each of the other as well. */
export function spokenForBoth(bending: readonly number[], lowering: readonly number[]): ShapeEvidence {
  const withOther = (own: readonly number[], other: readonly number[]): number[] =>
    own.map((value, i) => value + OTHER_MOVEMENT_SHARE * (other[i] ?? 0));
  return { bending: withOther(bending, lowering), lowering: withOther(lowering, bending) };
}

/** What two sources say of the shapes together. */
export function addEvidence(a: ShapeEvidence, b: ShapeEvidence): ShapeEvidence {
  return {
    bending: a.bending.map((value, i) => value + (b.bending[i] ?? 0)),
    lowering: a.lowering.map((value, i) => value + (b.lowering[i] ?? 0)),
  };
}
