import type { Exercise } from '../../core/exercises/exercise.ts';
import type { AngleMethod } from '../../core/kinematics/kinematic-frame.ts';
import type { SourceKind } from '../../core/pose/frame-source.ts';
import type { EstimatorIdentity } from '../../core/pose/pose-estimator.ts';
import { EXERCISE_OPTIONS } from '../begin/exercise-words.ts';

/** An exercise as it is named on every screen. */
export function exerciseWords(exercise: Exercise): string {
  return EXERCISE_OPTIONS.find((option) => option.value === exercise)?.label ?? exercise;
}

/** Where the pictures came from. */
export const SOURCE_WORDS: Readonly<Record<SourceKind, string>> = {
  camera: 'camera',
  clip: 'clip',
  demo: 'demo clip',
  'shared-window': 'shared window',
};

/** What gave the landmarks. */
export const ESTIMATOR_WORDS: Readonly<Record<EstimatorIdentity['model'], string>> = {
  'blazepose-lite': 'BlazePose lite',
  'blazepose-full': 'BlazePose full',
  'blazepose-heavy': 'BlazePose heavy',
  'blazepose-combined': 'three looks at each picture: BlazePose full, full in a mirror, and heavy',
};

/** How the picture's foreshortening was treated. */
export const METHOD_WORDS: Readonly<Record<AngleMethod, string>> = {
  'image-plane': 'in the plane of the picture',
  'turned-image-plane': 'in the plane of the picture, stretched back by the camera’s turn',
  'set-plane': 'in the plane in which the arm was seen to bend through the set',
};
