import { SIDES, type Side } from '../body.ts';
import { createCamera, projectPoint, type Camera, type CameraPlacement } from '../camera.ts';
import type { Equipment } from '../performance.ts';
import { poseSkeletons, type Scenario } from '../scenario.ts';
import type { SeededRandom } from '../seeded-random.ts';
import type { Skeleton } from '../skeleton.ts';
import { add, combine, toDegrees, type Vec3 } from '../vector.ts';

/** Share of the picture's height that the person with what is in the hands takes up over the whole set. */
export const FILL = { low: 0.55, high: 0.9 } as const;
const FIELD_OF_VIEW_DEG = { low: 35, high: 70 } as const;
/** Over the scene, how often it is looked at: no movement of a set gets far between two looks. */
const LOOK_EVERY_S = 0.2;
const LARGEST_NUMBER_OF_DRAWS = 400;
/** Skull above its centre, as a fraction of stature. */
const CROWN = 0.075;
/** The other joints lie between these. */
const OUTERMOST_JOINTS = [
  'nose',
  ...SIDES.flatMap((side) =>
    (['Shoulder', 'Elbow', 'Grip', 'Thumb', 'Hip', 'Knee', 'Heel', 'Toe'] as const).map(
      (joint) => `${side}${joint}` as const,
    ),
  ),
] as const;
/** Room for the flesh about the joints at the picture's edges, as a share of its height. */
const EDGE = 0.025;

/** Everything of the treated person and of what is in the hands that must be in the picture, at all times of the set. */
export function placesToShow(scenario: Scenario): Vec3[] {
  const [{ body, performance }] = scenario.people;
  const places: Vec3[] = [];
  for (let timeS = 0; timeS <= scenario.durationS; timeS += LOOK_EVERY_S) {
    const skeleton = poseSkeletons(scenario, timeS)[0] ?? null;
    if (skeleton !== null) places.push(...personPlaces(skeleton, body.statureM));
  }
  return [...places, ...equipmentPlaces(performance.equipment)];
}

function personPlaces({ joints, frames }: Skeleton, statureM: number): Vec3[] {
  const { head } = frames;
  const crown = combine([1, head.origin], [CROWN * statureM, head.y]);
  return [crown, ...OUTERMOST_JOINTS.map((name) => joints[name])];
}

/** The band's fixed end. Bar posts may leave the picture, as they do before a real camera; the hands on the bar not. */
function equipmentPlaces({ band }: Equipment): Vec3[] {
  return band === undefined ? [] : [band.anchor];
}

/** What is settled before the camera is placed. */
export interface View {
  readonly facingSide: Side;
  readonly yawDeg: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/**
 * A camera somewhere at that yaw that shows all the places and is filled by them as FILL says: height, roll, distance
 * and where it looks are drawn, the field of view follows from how full the picture is to be; drawn again until all
 * fits.
 * @throws RangeError when nothing fits after many draws.
 */
export function drawCamera(random: SeededRandom, view: View, places: readonly Vec3[]): CameraPlacement {
  for (let attempt = 0; attempt < LARGEST_NUMBER_OF_DRAWS; attempt++) {
    const placement = drawPlacement(random.fork(`attempt ${attempt.toString()}`), view, places);
    if (placement !== null && showsAll(createCamera(placement), places)) return placement;
  }
  throw new RangeError(`No camera at ${view.yawDeg.toFixed(1)} deg of yaw shows the whole set.`);
}

function drawPlacement(random: SeededRandom, view: View, places: readonly Vec3[]): CameraPlacement | null {
  const middle = middleOf(places);
  const placement: CameraPlacement = {
    ...view,
    rollDeg: random.between(-3, 3),
    distanceM: random.between(2, 4.2),
    heightM: random.between(0.6, 1.7),
    // A camera is seldom aimed exactly.
    lookAt: add(middle, [random.between(-0.12, 0.12), random.between(-0.12, 0.12), 0]),
    verticalFieldOfViewDeg: 60,
  };
  const wanted = random.between(FILL.low, FILL.high);
  // The picture of a pinhole grows as the tangent of half the field of view shrinks.
  const tangent = (Math.tan(Math.PI / 6) * filledShare(createCamera(placement), places)) / wanted;
  const verticalFieldOfViewDeg = 2 * toDegrees(Math.atan(tangent));
  const { low, high } = FIELD_OF_VIEW_DEG;
  if (!(verticalFieldOfViewDeg >= low && verticalFieldOfViewDeg <= high)) return null;
  return { ...placement, verticalFieldOfViewDeg };
}

function middleOf(places: readonly Vec3[]): Vec3 {
  const middle = (axis: 0 | 1 | 2): number => {
    const along = places.map((place) => place[axis]);
    return (smallest(along) + largest(along)) / 2;
  };
  return [middle(0), middle(1), middle(2)];
}

// Thousands of numbers are too many to spread into Math.min.
const smallest = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b), Infinity);
const largest = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), -Infinity);

/** Share of the picture's height from the highest to the lowest of the places. */
export function filledShare(camera: Camera, places: readonly Vec3[]): number {
  const heights = places.map((place) => projectPoint(camera, place).yPx);
  return (largest(heights) - smallest(heights)) / camera.heightPx;
}

/** True when each of the places is inside the picture, with room for the flesh about it. */
export function showsAll(camera: Camera, places: readonly Vec3[]): boolean {
  const { widthPx, heightPx } = camera;
  const edgePx = EDGE * heightPx;
  return places.every((place) => {
    const { xPx, yPx, depthM } = projectPoint(camera, place);
    const isInside = (px: number, sizePx: number): boolean => px >= edgePx && px <= sizePx - edgePx;
    return depthM > 0 && isInside(xPx, widthPx) && isInside(yPx, heightPx);
  });
}
