import { LANDMARK_NAMES, landmarkIndex, sidedIndex, type SidedLandmark } from './landmark.ts';
import type { Pose } from './pose-frame.ts';

/** Places in the network's list of every landmark that exists on both sides, eyes and mouth too: left, right. */
const ALL_PAIRS: readonly (readonly [number, number])[] = LANDMARK_NAMES.flatMap((name) => {
  const right = LANDMARK_NAMES.find(
    (other) => name.includes('left') && other === name.replace('left', 'right'),
  );
  return right === undefined ? [] : [[landmarkIndex(name), landmarkIndex(right)] as const];
});

/** The pose with left and right of some landmarks exchanged; of all where none are named. */
export function exchangeLabels(pose: Pose, landmarks?: readonly SidedLandmark[]): Pose {
  const image = [...pose.image];
  const world = [...pose.world];
  const pairs =
    landmarks?.map((landmark) => [sidedIndex('left', landmark), sidedIndex('right', landmark)] as const) ??
    ALL_PAIRS;
  for (const [left, right] of pairs) {
    exchangeIn(image, left, right);
    exchangeIn(world, left, right);
  }
  return { image, world };
}

function exchangeIn<T>(list: T[], a: number, b: number): void {
  const [first, second] = [list[a], list[b]];
  if (first !== undefined && second !== undefined) [list[a], list[b]] = [second, first];
}

/** What was found in a mirrored picture as it is in the picture itself; the person's left is left again. */
export function mirroredBack(pose: Pose | null, widthPx: number): Pose | null {
  if (pose === null) return null;
  const { image, world } = exchangeLabels(pose);
  return {
    image: image.map((point) => ({ ...point, x: widthPx - point.x })),
    world: world.map((point) => ({ ...point, x: -point.x })),
  };
}
