import type { Side } from '../../src/core/pose/landmark.ts';
import { LANDMARK_NAMES, type LandmarkName } from '../../src/core/pose/landmark.ts';
import type { Pose } from '../../src/core/pose/pose-frame.ts';
import { correlatedNoise } from '../helpers/kinematic-traces.ts';
import { seededNormal } from '../helpers/seeded-random.ts';

/** Landmarks that tremble alike. */
export const BODY_PARTS = [
  'head',
  'shoulder',
  'elbow',
  'wrist',
  'hand',
  'hip',
  'knee',
  'ankle',
  'foot',
] as const;
export type BodyPart = (typeof BODY_PARTS)[number];

/**
 * How a landmark trembles: root mean square of what a coordinate differs from the mean of three neighbouring pictures at
 * 30 pictures a second.
 */
export interface Tremble {
  /** In the picture, trunk lengths. */
  readonly imageTrunks: number;
  /** World x and y, metres. */
  readonly worldM: number;
  /** World z, metres. */
  readonly depthM: number;
}

/**
 * Correlation time of the noise: half of it lasts to the next of 30 pictures a second. The same clips say only that it
 * lasts so long or longer; what lasts longer is the error of a posture, which the drawn moments show.
 */
export const CORRELATION_SECONDS = 1 / 30 / Math.log(2);

/** Standard deviation of a first-order autoregression, half of which lasts, over its tremble as defined above. */
export const SD_OVER_TREMBLE = 3 / Math.sqrt(6 - 8 * 0.5 + 2 * 0.5 ** 2);

/**
 * Measured on the demo clips body-curl-strict and free-curl-mirror (904 and 1064 pictures, network full): npm run measure --
 * CLIP --rate all, then npm run yardstick -- --tremble RECORDS; quadratic mean of both. A drawn picture has its own share
 * of this noise in it, which the interpolated errors keep: what is made at full rate errs a little more than the network.
 * `heavy` and the three looks combined are given the same noise: theirs was not measured, and a mean of three trembles less.
 */
export const TREMBLE: Readonly<Record<'near' | 'far', Readonly<Record<BodyPart, Tremble>>>> = {
  near: {
    head: { imageTrunks: 0.00276, worldM: 0.00161, depthM: 0.00293 },
    shoulder: { imageTrunks: 0.00187, worldM: 0.00157, depthM: 0.0025 },
    elbow: { imageTrunks: 0.00547, worldM: 0.00234, depthM: 0.00306 },
    wrist: { imageTrunks: 0.00437, worldM: 0.00222, depthM: 0.00482 },
    hand: { imageTrunks: 0.00405, worldM: 0.00228, depthM: 0.00508 },
    hip: { imageTrunks: 0.00181, worldM: 0.00067, depthM: 0.00044 },
    knee: { imageTrunks: 0.00238, worldM: 0.0014, depthM: 0.00199 },
    ankle: { imageTrunks: 0.00158, worldM: 0.00139, depthM: 0.00402 },
    foot: { imageTrunks: 0.00219, worldM: 0.00171, depthM: 0.00446 },
  },
  far: {
    head: { imageTrunks: 0.00231, worldM: 0.00132, depthM: 0.00292 },
    shoulder: { imageTrunks: 0.00357, worldM: 0.00141, depthM: 0.0029 },
    elbow: { imageTrunks: 0.00395, worldM: 0.00249, depthM: 0.00402 },
    wrist: { imageTrunks: 0.00889, worldM: 0.00367, depthM: 0.00541 },
    hand: { imageTrunks: 0.00991, worldM: 0.00396, depthM: 0.00579 },
    hip: { imageTrunks: 0.00234, worldM: 0.00074, depthM: 0.00045 },
    knee: { imageTrunks: 0.00279, worldM: 0.00158, depthM: 0.00296 },
    ankle: { imageTrunks: 0.00287, worldM: 0.00172, depthM: 0.00476 },
    foot: { imageTrunks: 0.00364, worldM: 0.00194, depthM: 0.00513 },
  },
};

/** The part that a landmark belongs to; the head for eyes, ears, nose and mouth. */
export function partOf(landmark: LandmarkName): BodyPart {
  const name = landmark.replace(/^(left|right)_/, '');
  if (/^(pinky|index|thumb)$/.test(name)) return 'hand';
  if (/^(heel|foot_index)$/.test(name)) return 'foot';
  return BODY_PARTS.find((part) => part === name) ?? 'head';
}

/** Whether a landmark is on the side towards the camera; the nose is. */
export function whereOf(landmark: LandmarkName, facingSide: Side): 'near' | 'far' {
  return !/^(left|right)_/.test(landmark) || landmark.startsWith(facingSide) ? 'near' : 'far';
}

/**
 * Adds the noise from picture to picture, seeded, autocorrelated, as measured times `size`. Poses come in order of time.
 * facingSide: the side of the person that is towards the camera; the other side's limbs are half hidden and tremble more.
 */
export function landmarkNoise(
  seed: number,
  facingSide: Side,
  size: number,
): (pose: Pose, timeSeconds: number, trunkPx: number) => Pose {
  const normal = seededNormal(seed);
  const streams = LANDMARK_NAMES.map((name) => {
    const { imageTrunks, worldM, depthM } = TREMBLE[whereOf(name, facingSide)][partOf(name)];
    const noise = (tremble: number) =>
      correlatedNoise(normal, tremble * SD_OVER_TREMBLE * size, CORRELATION_SECONDS);
    return {
      x: noise(imageTrunks),
      y: noise(imageTrunks),
      wx: noise(worldM),
      wy: noise(worldM),
      wz: noise(depthM),
    };
  });
  return (pose, timeSeconds, trunkPx) => {
    const now = streams.map(({ x, y, wx, wy, wz }) => ({
      x: x(timeSeconds) * trunkPx,
      y: y(timeSeconds) * trunkPx,
      world: { x: wx(timeSeconds), y: wy(timeSeconds), z: wz(timeSeconds) },
    }));
    return {
      image: pose.image.map((point, index) => ({
        ...point,
        x: point.x + (now[index]?.x ?? 0),
        y: point.y + (now[index]?.y ?? 0),
      })),
      world: pose.world.map((point, index) => ({
        x: point.x + (now[index]?.world.x ?? 0),
        y: point.y + (now[index]?.world.y ?? 0),
        z: point.z + (now[index]?.world.z ?? 0),
      })),
    };
  };
}
