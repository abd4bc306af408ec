/**
 * The 33 body landmarks of the BlazePose topology, in the order in which the network gives them. The order is a
 * contract with the network and with every stored record: append nothing, move nothing.
 * Source: pose-detection package, BLAZEPOSE_KEYPOINTS.
 */
export const LANDMARK_NAMES = [
  'nose',
  'left_eye_inner',
  'left_eye',
  'left_eye_outer',
  'right_eye_inner',
  'right_eye',
  'right_eye_outer',
  'left_ear',
  'right_ear',
  'mouth_left',
  'mouth_right',
  'left_shoulder',
  'right_shoulder',
  'left_elbow',
  'right_elbow',
  'left_wrist',
  'right_wrist',
  'left_pinky',
  'right_pinky',
  'left_index',
  'right_index',
  'left_thumb',
  'right_thumb',
  'left_hip',
  'right_hip',
  'left_knee',
  'right_knee',
  'left_ankle',
  'right_ankle',
  'left_heel',
  'right_heel',
  'left_foot_index',
  'right_foot_index',
] as const;

/** A landmark's name; left and right are the person's own. */
export type LandmarkName = (typeof LANDMARK_NAMES)[number];

/** The person's own left or right, never the picture's. A mirrored preview does not change it. */
export type Side = 'left' | 'right';

/** Landmarks that exist once on each side of the body, named without the side. */
export type SidedLandmark =
  | 'shoulder'
  | 'elbow'
  | 'wrist'
  | 'pinky'
  | 'index'
  | 'thumb'
  | 'hip'
  | 'knee'
  | 'ankle'
  | 'heel'
  | 'foot_index'
  | 'ear';

const INDEX_BY_NAME: ReadonlyMap<LandmarkName, number> = new Map(
  LANDMARK_NAMES.map((name, index) => [name, index]),
);

/** Place of a landmark in the network's list, 0 to 32. */
export function landmarkIndex(name: LandmarkName): number {
  const index = INDEX_BY_NAME.get(name);
  if (index === undefined) throw new Error(`landmarkIndex: "${name}" is no landmark of this topology.`);
  return index;
}

/** Place in the network's list of a landmark of one side, 0 to 32. */
export function sidedIndex(side: Side, landmark: SidedLandmark): number {
  return landmarkIndex(`${side}_${landmark}`);
}

/** The other side of the body. */
export function otherSide(side: Side): Side {
  return side === 'left' ? 'right' : 'left';
}
