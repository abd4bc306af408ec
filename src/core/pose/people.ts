import { sidedIndex, type SidedLandmark } from './landmark.ts';
import type { Pose } from './pose-frame.ts';
import type { DetectedPerson, PicturePoint } from './person-detector.ts';

/**
 * Two finds nearer to each other than this are one body seen twice, in body radii: no two bodies can have hips and
 * shoulders there. Our own choice.
 */
const SAME_BODY_RADII = 0.25;

/**
 * A second person below this share of the largest one's size does not compete: somebody far behind, or a picture on
 * the wall. Our own choice: the tracker's search takes the strongest find, which a third of the size seldom is.
 */
const COMPETING_SIZE_SHARE = 0.35;

/**
 * Tracked hips and shoulders further than this from those of everybody found, in body radii, follow nobody. Half a
 * body radius is about the length of a trunk. Our own choice, far above the finder's own scatter.
 */
const ASTRAY_RADII = 0.5;

/** People who matter to the measurement: the same body counted once, the far and small left out. */
export function competingPeople(found: readonly DetectedPerson[]): readonly DetectedPerson[] {
  const bodies: DetectedPerson[] = [];
  for (const person of found)
    if (!bodies.some((body) => apartRadii(body, person) < SAME_BODY_RADII)) bodies.push(person);
  const largest = Math.max(0, ...bodies.map((body) => body.bodyRadiusPx));
  return bodies.filter((body) => body.bodyRadiusPx >= COMPETING_SIZE_SHARE * largest);
}

/**
 * True when a tracked pose lies far from everybody whom the finder found: the tracker went stale. False when the finder
 * found nobody, because it misses people whom the tracker still follows well (cropped, lying, partly hidden).
 */
export function followsNobody(pose: Pose, found: readonly DetectedPerson[]): boolean {
  if (found.length === 0) return false;
  const hips = middle(pose, 'hip');
  const shoulders = middle(pose, 'shoulder');
  return found.every(
    (person) => placesApartRadii(hips, shoulders, person, person.bodyRadiusPx) > ASTRAY_RADII,
  );
}

function apartRadii(a: DetectedPerson, b: DetectedPerson): number {
  return placesApartRadii(a.midHip, a.midShoulder, b, Math.max(a.bodyRadiusPx, b.bodyRadiusPx));
}

/** The larger of the hips' and the shoulders' distance, in the given radius. */
function placesApartRadii(
  hips: PicturePoint,
  shoulders: PicturePoint,
  person: DetectedPerson,
  radiusPx: number,
): number {
  const apart = Math.max(distance(hips, person.midHip), distance(shoulders, person.midShoulder));
  return radiusPx > 0 ? apart / radiusPx : Number.POSITIVE_INFINITY;
}

function middle(pose: Pose, landmark: SidedLandmark): PicturePoint {
  const left = pose.image[sidedIndex('left', landmark)];
  const right = pose.image[sidedIndex('right', landmark)];
  if (left === undefined || right === undefined) throw new Error('followsNobody: the pose lacks landmarks.');
  return { x: (left.x + right.x) / 2, y: (left.y + right.y) / 2 };
}

function distance(a: PicturePoint, b: PicturePoint): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}
