import { sidedIndex, type Side, type SidedLandmark } from '../../src/core/pose/landmark.ts';
import type { ImageLandmark, Pose } from '../../src/core/pose/pose-frame.ts';
import type { SeenByBoth } from './page.ts';

/** How far two estimators are apart in one picture. */
export interface Difference {
  readonly timeSeconds: number;
  /** Mean distance of the landmarks that the library says are seen, shares of the torso's length. */
  readonly torsoShare: number;
  /** Of the elbow angles in the picture, degrees, of the arm that is nearer or treated. */
  readonly elbowDeg: number;
}

/** Least visibility of a landmark that is compared: where the library itself guesses, there is nothing to agree on. */
const SEEN = 0.5;

/** The difference in a picture; null when one of the two sees nobody, or the arm is not seen. */
export function differenceIn({ timeSeconds, ours, theirs }: SeenByBoth, side: Side): Difference | null {
  if (ours === null || theirs === null) return null;
  const torso = torsoLength(theirs);
  const apart = theirs.image.flatMap((landmark, index) => {
    const own = ours.image[index];
    return landmark.visibility < SEEN || own === undefined
      ? []
      : [Math.hypot(own.x - landmark.x, own.y - landmark.y) / torso];
  });
  const arm = (['shoulder', 'elbow', 'wrist'] as const).map((name) => point(theirs, side, name));
  if (apart.length === 0 || arm.some(({ visibility }) => visibility < SEEN)) return null;
  return {
    timeSeconds,
    torsoShare: apart.reduce((sum, share) => sum + share, 0) / apart.length,
    elbowDeg: Math.abs(elbowDeg(ours, side) - elbowDeg(theirs, side)),
  };
}

function torsoLength(pose: Pose): number {
  const middle = (name: SidedLandmark): { readonly x: number; readonly y: number } => {
    const [left, right] = [point(pose, 'left', name), point(pose, 'right', name)];
    return { x: (left.x + right.x) / 2, y: (left.y + right.y) / 2 };
  };
  const [shoulders, hips] = [middle('shoulder'), middle('hip')];
  return Math.hypot(shoulders.x - hips.x, shoulders.y - hips.y);
}

/** Angle between upper arm and forearm in the picture; 0 straight. */
function elbowDeg(pose: Pose, side: Side): number {
  const [shoulder, elbow, wrist] = [
    point(pose, side, 'shoulder'),
    point(pose, side, 'elbow'),
    point(pose, side, 'wrist'),
  ];
  const upper = { x: elbow.x - shoulder.x, y: elbow.y - shoulder.y };
  const fore = { x: wrist.x - elbow.x, y: wrist.y - elbow.y };
  const cross = upper.x * fore.y - upper.y * fore.x;
  const dot = upper.x * fore.x + upper.y * fore.y;
  return (Math.atan2(Math.abs(cross), dot) * 180) / Math.PI;
}

function point(pose: Pose, side: Side, name: SidedLandmark): ImageLandmark {
  const found = pose.image[sidedIndex(side, name)];
  if (found === undefined) throw new Error('compare-poses: a pose lacks landmarks.');
  return found;
}
