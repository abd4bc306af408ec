import { median } from '../../src/core/math/statistics.ts';
import { LANDMARK_NAMES, sidedIndex, type Side } from '../../src/core/pose/landmark.ts';
import type { Pose, PoseFrame } from '../../src/core/pose/pose-frame.ts';
import {
  BODY_PARTS,
  partOf,
  whereOf,
  type BodyPart,
  type Tremble,
} from '../../tests/yardstick/landmark-noise.ts';

/** Residuals beyond so many robust standard deviations are a jump of the tracker, no noise. */
const JUMP_SDS = 6;
/** A robust standard deviation over the median of absolute values of a normal distribution. */
const SD_OVER_MEDIAN = 1.4826;
const LEAST_FRAMES = 100;

/** Tremble of each part of the body on the side towards the camera and on the other. */
export type TrembleTable = Readonly<Record<'near' | 'far', Readonly<Record<BodyPart, Tremble>>>>;

/**
 * Measures how landmarks tremble from picture to picture: root mean square of what each coordinate differs from the mean
 * of three neighbouring pictures, which leaves out nearly all of the movement. Frames evenly timed, at least 100 with a
 * pose; facingSide: the side that is towards the camera.
 * @throws Error for fewer frames.
 */
export function measureTremble(frames: readonly PoseFrame[], facingSide: Side): TrembleTable {
  const poses = frames.map(({ pose }) => pose);
  const found = poses.filter((pose) => pose !== null);
  const trunkPx = median(found.map(trunkOf));
  if (trunkPx === null || found.length < LEAST_FRAMES)
    throw new Error(`measureTremble: ${String(found.length)} frames are too few.`);
  const residuals = (pick: (pose: Pose) => number | undefined): number[] =>
    residualsOf(poses.map((pose) => (pose === null ? NaN : (pick(pose) ?? NaN))));
  const landmarks = LANDMARK_NAMES.map((name, i) => ({
    name,
    image: [...residuals((pose) => pose.image[i]?.x), ...residuals((pose) => pose.image[i]?.y)],
    world: [...residuals((pose) => pose.world[i]?.x), ...residuals((pose) => pose.world[i]?.y)],
    depth: residuals((pose) => pose.world[i]?.z),
  })).filter(({ name }) => !/eye|mouth/.test(name));
  const trembleOf = (part: BodyPart, where: 'near' | 'far'): Tremble => {
    const own = landmarks.filter(({ name }) => partOf(name) === part && whereOf(name, facingSide) === where);
    return {
      imageTrunks: rootMeanSquare(own.flatMap(({ image }) => image)) / trunkPx,
      worldM: rootMeanSquare(own.flatMap(({ world }) => world)),
      depthM: rootMeanSquare(own.flatMap(({ depth }) => depth)),
    };
  };
  const tableOf = (where: 'near' | 'far') =>
    // Every part is a key, which Object.fromEntries cannot say in its type.
    Object.fromEntries(BODY_PARTS.map((part) => [part, trembleOf(part, where)])) as Record<BodyPart, Tremble>;
  return { near: tableOf('near'), far: tableOf('far') };
}

/** Each value less the mean of itself and its neighbours, where there are all three and the tracker did not jump. */
function residualsOf(values: readonly number[]): number[] {
  const residuals = values
    .map((value, i) => (2 * value - (values[i - 1] ?? NaN) - (values[i + 1] ?? NaN)) / 3)
    .filter(Number.isFinite);
  const most = JUMP_SDS * SD_OVER_MEDIAN * (median(residuals.map(Math.abs)) ?? NaN);
  return residuals.filter((residual) => Math.abs(residual) <= most);
}

function trunkOf({ image }: Pose): number {
  const at = (side: Side, name: 'shoulder' | 'hip') => image[sidedIndex(side, name)] ?? { x: NaN, y: NaN };
  const [a, b, c, d] = [
    at('left', 'shoulder'),
    at('right', 'shoulder'),
    at('left', 'hip'),
    at('right', 'hip'),
  ];
  return Math.hypot((a.x + b.x - c.x - d.x) / 2, (a.y + b.y - c.y - d.y) / 2);
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}
