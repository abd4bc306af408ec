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

/**
 * A stored moment as it is read: "2 March 2026, 18:05", in the wall clock of the place where it was recorded (the
 * offset is part of the record), so that a session at 18:05 stays at 18:05 wherever it is opened.
 */
export function whenWords(moment: string): string {
  const match = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}:\d{2})/.exec(moment);
  if (!match) return moment;
  const [, year, month, day, time] = match;
  return `${Number(day)} ${MONTHS[Number(month) - 1] ?? month} ${year}, ${time}`;
}

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];
