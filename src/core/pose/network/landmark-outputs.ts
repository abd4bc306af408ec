import { LANDMARK_NAMES } from '../landmark.ts';
import type { PicturePoint } from '../person-detector.ts';
import type { Pose } from '../pose-frame.ts';
import type { Region } from './region.ts';

/** Side of the landmark network's square input, pixels. */
export const LANDMARK_INPUT_PX = 256;

/** Points that the network gives: 33 landmarks, two that say where to look next, and four unused ones. */
const POINTS = 39;
const VALUES_PER_POINT = 5;
const WORLD_VALUES_PER_POINT = 3;
const NEXT_CENTRE = 33;
const NEXT_ON_CIRCLE = 34;

/** Side of the heat maps, cells, and of the window in which a landmark is refined. Source: kernel 7, pose graph. */
const HEAT_CELLS = 64;
const HEAT_REACH = 3;

/** Least heat for a landmark to be refined, and least presence of a body. Source: 0.5 both, pose-detection's constants. */
const LEAST_HEAT = 0.5;
const LEAST_PRESENCE = 0.5;

/** Sizes of the network's outputs, by which they are told apart: their order is no part of its contract. */
export const OUTPUT_SIZES = {
  points: POINTS * VALUES_PER_POINT,
  presence: 1,
  heat: HEAT_CELLS * HEAT_CELLS * POINTS,
  world: POINTS * WORLD_VALUES_PER_POINT,
} as const;

/** What the landmark network said of a region. */
export interface LandmarkOutputs {
  /** 39 points of x, y, z (pixels of the input), visibility and presence (before the sigmoid). */
  readonly points: Float32Array;
  /** One value, 0 to 1: that somebody is in the region. */
  readonly presence: Float32Array;
  /** 64 x 64 cells of 39 values, before the sigmoid. */
  readonly heat: Float32Array;
  /** 39 points of x, y, z, metres. */
  readonly world: Float32Array;
}

/** A body found in a region, and the two points that say where it will be looked for in the next picture. */
export interface Found {
  readonly pose: Pose;
  /** Between the hips, and on the circle about the body; pixels of the picture. */
  readonly centre: PicturePoint;
  readonly onCircle: PicturePoint;
}

/**
 * The body in a region, in the picture's pixels; null when the network sees nobody.
 * Source: the steps of the published pose graph as in pose-detection 2.1.3, dist/shared/calculators
 * (tensors_to_landmarks, refine_landmarks_from_heatmap, calculate_landmark_projection,
 * calculate_world_landmark_projection); the heat's sigmoid as in the graph's own calculator, since these files give it raw.
 */
export function decodeLandmarks(outputs: LandmarkOutputs, region: Region): Found | null {
  if (!((outputs.presence[0] ?? 0) >= LEAST_PRESENCE)) return null;
  const place = projector(region);
  const turn = turner(region.turnRad);
  const image = LANDMARK_NAMES.map((_, index) => {
    const visibility = sigmoid(at(outputs.points, index * VALUES_PER_POINT + 3));
    return { ...place(refined(outputs, index)), visibility };
  });
  const world = LANDMARK_NAMES.map((_, index) => {
    const from = index * WORLD_VALUES_PER_POINT;
    const turned = turn(at(outputs.world, from), at(outputs.world, from + 1));
    return { ...turned, z: at(outputs.world, from + 2) };
  });
  return {
    pose: { image, world },
    centre: place(refined(outputs, NEXT_CENTRE)),
    onCircle: place(refined(outputs, NEXT_ON_CIRCLE)),
  };
}

/** A point of the input, 0 to 1, moved to the middle of the heat about it where that is strong enough. */
function refined({ points, heat }: LandmarkOutputs, index: number): PicturePoint {
  const x = at(points, index * VALUES_PER_POINT) / LANDMARK_INPUT_PX;
  const y = at(points, index * VALUES_PER_POINT + 1) / LANDMARK_INPUT_PX;
  const column = Math.trunc(x * HEAT_CELLS);
  const row = Math.trunc(y * HEAT_CELLS);
  if (column < 0 || column >= HEAT_CELLS || row < 0 || row >= HEAT_CELLS) return { x, y };
  let sum = 0;
  let sumX = 0;
  let sumY = 0;
  let most = 0;
  for (let r = Math.max(0, row - HEAT_REACH); r < Math.min(HEAT_CELLS, row + HEAT_REACH + 1); r += 1)
    for (
      let c = Math.max(0, column - HEAT_REACH);
      c < Math.min(HEAT_CELLS, column + HEAT_REACH + 1);
      c += 1
    ) {
      const value = sigmoid(at(heat, (r * HEAT_CELLS + c) * POINTS + index));
      sum += value;
      sumX += c * value;
      sumY += r * value;
      most = Math.max(most, value);
    }
  return most >= LEAST_HEAT && sum > 0
    ? { x: sumX / HEAT_CELLS / sum, y: sumY / HEAT_CELLS / sum }
    : { x, y };
}

/** From the input, 0 to 1, to the picture's pixels. */
function projector({ centreX, centreY, sizePx, turnRad }: Region): (point: PicturePoint) => PicturePoint {
  const turn = turner(turnRad);
  return ({ x, y }) => {
    const turned = turn((x - 0.5) * sizePx, (y - 0.5) * sizePx);
    return { x: centreX + turned.x, y: centreY + turned.y };
  };
}

function turner(angleRad: number): (x: number, y: number) => PicturePoint {
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return (x, y) => ({ x: cos * x - sin * y, y: sin * x + cos * y });
}

function sigmoid(value: number): number {
  return 1 / (1 + Math.exp(-value));
}

function at(values: Float32Array, index: number): number {
  return values[index] ?? 0;
}
