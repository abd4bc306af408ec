import { isInside } from '../pose/body-checks.ts';
import type { Side } from '../pose/landmark.ts';
import type { PoseFrame } from '../pose/pose-frame.ts';
import { sidedPose, trunkOf, type SidedPoint, type SidedPose } from '../pose/sided-pose.ts';
import { mustBeInView, type BodyPart } from './camera-place.ts';
import type { Exercise } from './exercise.ts';

/** An edge of the picture. */
type PictureEdge = 'left' | 'right' | 'top' | 'bottom';

/** What must be in view, as it lies in one picture; pixels of the upright picture, x to the right, y down. */
export interface ViewOutline {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Round all that must be seen, cut at the picture's edges. */
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** Edges beyond which some of it lies. */
  readonly beyond: readonly PictureEdge[];
  /** Parts that are not wholly in the picture. */
  readonly missing: readonly BodyPart[];
}

/** Room round the landmarks, in lengths of the trunk: they lie inside the body. For the eye only, no source. */
const ROUND_TRUNKS = 0.18;

const POINTS: Readonly<Record<BodyPart, (pose: SidedPose) => readonly SidedPoint[]>> = {
  arm: ({ treated }) => [treated.shoulder, treated.elbow, treated.wrist, treated.index, treated.pinky],
  trunk: ({ treated, other }) => [treated.shoulder, treated.hip, other.shoulder, other.hip],
  feet: ({ treated }) => [treated.knee, treated.ankle, treated.foot_index],
};

/** Where what an exercise needs to see lies in a picture; null without a person. */
export function viewOutline(frame: PoseFrame, side: Side, exercise: Exercise): ViewOutline | null {
  if (frame.pose === null) return null;
  const { widthPx, heightPx } = frame;
  const pose = sidedPose(frame.pose, side, widthPx);
  const parts = mustBeInView(exercise);
  const points = parts.flatMap((part) => POINTS[part](pose));
  const xs = points.map(({ forward }) => (side === 'left' ? widthPx - forward : forward));
  const ys = points.map(({ up }) => -up);
  const room = ROUND_TRUNKS * trunkOf(pose).length;
  const wished = {
    left: Math.min(...xs) - room,
    right: Math.max(...xs) + room,
    top: Math.min(...ys) - room,
    bottom: Math.max(...ys) + room,
  };
  const isBeyond: Readonly<Record<PictureEdge, boolean>> = {
    left: Math.min(...xs) < 0,
    right: Math.max(...xs) > widthPx,
    top: Math.min(...ys) < 0,
    bottom: Math.max(...ys) > heightPx,
  };
  return {
    widthPx,
    heightPx,
    left: Math.max(0, wished.left),
    right: Math.min(widthPx, wished.right),
    top: Math.max(0, wished.top),
    bottom: Math.min(heightPx, wished.bottom),
    beyond: (['left', 'right', 'top', 'bottom'] as const).filter((edge) => isBeyond[edge]),
    missing: parts.filter((part) => !POINTS[part](pose).every((point) => isInside(point, frame))),
  };
}
