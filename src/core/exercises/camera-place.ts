import { ASSUMED_LONG_FIELD_DEG } from '../kinematics/anthropometry.ts';
import { toRadians } from '../math/angle.ts';
import type { Exercise } from './exercise.ts';

/** A part of the body that an exercise needs in the picture. */
export type BodyPart = 'arm' | 'trunk' | 'feet';

/** Where the camera stands for an exercise; it looks level at the side of the treated arm. */
export interface CameraPlace {
  /** From the person, metres, in steps of half a metre. */
  readonly distanceM: number;
  /** Above the floor, metres. */
  readonly heightM: number;
  /** The same by the person's own body. */
  readonly asHighAs: 'your elbow' | 'your hips';
}

/** A person whose height nobody said, centimetres: near the mean of adults; only the drawing depends on it. */
const ASSUMED_STATURE_CM = 170;
/** Breadth over height of the picture that is assumed: of a laptop's camera, or a phone's on its side. */
const ASSUMED_ASPECT = 16 / 9;
/** Room left round the person in the picture, as a share of it. Common practice, no source. */
const AIR_SHARE = 0.2;
const STEP_M = 0.5;

/**
 * What of the body has to fit upright into the picture, and how high the camera stands, as fractions of stature. Crown to
 * hanging hand is 1 less 0.377, hip 0.530, elbow 0.632 of stature (Drillis and Contini, in Winter's figure, from memory); a body that hangs
 * from a bar is taken at its full length. Common practice, no source.
 */
const NEEDS = {
  hold: { upright: 0.63, height: 0.632, asHighAs: 'your elbow' },
  'band-curl': { upright: 0.63, height: 0.632, asHighAs: 'your elbow' },
  'free-curl': { upright: 0.63, height: 0.632, asHighAs: 'your elbow' },
  'body-curl': { upright: 1, height: 0.53, asHighAs: 'your hips' },
} as const satisfies Readonly<Record<Exercise, unknown>>;

/** What must be seen for an exercise: curl and row are told apart by the legs as well. */
export function mustBeInView(exercise: Exercise): readonly BodyPart[] {
  return exercise === 'body-curl' ? ['arm', 'trunk', 'feet'] : ['arm', 'trunk'];
}

/** Where the camera stands for an exercise. statureCm: null where nobody said it. */
export function cameraPlace(exercise: Exercise, statureCm: number | null): CameraPlace {
  const statureM = (statureCm ?? ASSUMED_STATURE_CM) / 100;
  const { upright, height, asHighAs } = NEEDS[exercise];
  const halfPictureM = (upright * statureM * (1 + AIR_SHARE)) / 2;
  const halfField = Math.tan(toRadians(ASSUMED_LONG_FIELD_DEG / 2)) / ASSUMED_ASPECT;
  return {
    distanceM: Math.ceil(halfPictureM / halfField / STEP_M) * STEP_M,
    heightM: height * statureM,
    asHighAs,
  };
}
