import { sigmoid, tensor, tensor4d } from '@tensorflow/tfjs';
import {
  BLAZEPOSE_DETECTOR_RECT_TRANSFORMATION_CONFIG,
  BLAZEPOSE_LANDMARKS_SMOOTHING_CONFIG_AUXILIARY,
  BLAZEPOSE_REFINE_LANDMARKS_FROM_HEATMAP_CONFIG,
  BLAZEPOSE_TENSORS_TO_LANDMARKS_CONFIG,
} from '@tensorflow-models/pose-detection/dist/blazepose_tfjs/constants.js';
import { calculateAlignmentPointsRects } from '@tensorflow-models/pose-detection/dist/shared/calculators/calculate_alignment_points_rects.js';
import { calculateLandmarkProjection } from '@tensorflow-models/pose-detection/dist/shared/calculators/calculate_landmark_projection.js';
import { calculateWorldLandmarkProjection } from '@tensorflow-models/pose-detection/dist/shared/calculators/calculate_world_landmark_projection.js';
import { refineLandmarksFromHeatmap } from '@tensorflow-models/pose-detection/dist/shared/calculators/refine_landmarks_from_heatmap.js';
import { tensorsToLandmarks } from '@tensorflow-models/pose-detection/dist/shared/calculators/tensors_to_landmarks.js';
import { transformNormalizedRect } from '@tensorflow-models/pose-detection/dist/shared/calculators/transform_rect.js';
import { OneEuroFilter } from '@tensorflow-models/pose-detection/dist/shared/filters/one_euro_filter.js';
import { describe, expect, it } from 'vitest';
import { decodeLandmarks } from '../../../../src/core/pose/network/landmark-outputs.ts';
import { type Region, regionOfBody } from '../../../../src/core/pose/network/region.ts';
import { SteadyRegion } from '../../../../src/core/pose/network/steady-region.ts';
import { seededNormal, seededRandom } from '../../../helpers/seeded-random.ts';

// Outside checks: the published calculators of pose-detection 2.1.3, run on the same numbers.

const SIZE = { width: 640, height: 480 };
const DIRECTIONS = [0, 0.4, 1.2, 1.57, 2.4, 3.1, -0.3, -1.5, -2.8];
/** The region as the library's rectangle: shares of the picture. */
const asRect = ({ centreX, centreY, sizePx, turnRad }: Region) => ({
  xCenter: centreX / SIZE.width,
  yCenter: centreY / SIZE.height,
  width: sizePx / SIZE.width,
  height: sizePx / SIZE.height,
  rotation: turnRad,
});

describe('the region of a body', () => {
  it.each(DIRECTIONS)("is the library's, when the body points in direction %d", (direction) => {
    const midHip = { x: 300, y: 250 };
    const onCircle = { x: 300 + 150 * Math.cos(direction), y: 250 + 150 * Math.sin(direction) };
    const keypoints = [midHip, onCircle].map(({ x, y }) => ({ x: x / SIZE.width, y: y / SIZE.height }));
    const theirs = transformNormalizedRect(
      calculateAlignmentPointsRects({ locationData: { relativeKeypoints: keypoints } }, SIZE, {
        rotationVectorStartKeypointIndex: 0,
        rotationVectorEndKeypointIndex: 1,
        rotationVectorTargetAngleDegree: 90,
      }),
      SIZE,
      BLAZEPOSE_DETECTOR_RECT_TRANSFORMATION_CONFIG,
    );
    const ours = regionOfBody(midHip, onCircle);
    expect(ours?.sizePx).toBeCloseTo((theirs.width ?? 0) * SIZE.width, 6);
    expect(Math.cos((ours?.turnRad ?? 0) - (theirs.rotation ?? 0))).toBeCloseTo(1, 10);
    expect(ours).toMatchObject({ centreX: 300, centreY: 250 });
  });

  it('is none for a body without size', () => {
    expect(regionOfBody({ x: 3, y: 4 }, { x: 3, y: 4 })).toBeNull();
  });
});

/** Outputs of the landmark network, drawn from a seed: raw heat, so that only some landmarks are refined. */
function rawOutputs(seed: number) {
  const random = seededRandom(seed);
  const normal = seededNormal(seed);
  const points = Float32Array.from({ length: 195 }, (_, k) =>
    k % 5 < 2 ? 20 + random() * 220 : normal() * 4,
  );
  const heat = Float32Array.from({ length: 64 * 64 * 39 }, () => -4 + 2.5 * normal());
  const world = Float32Array.from({ length: 117 }, () => normal() * 0.4);
  return { points, heat, world, presence: new Float32Array([0.9]) };
}

describe('decoding landmarks', () => {
  const region: Region = { centreX: 310, centreY: 200, sizePx: 400, turnRad: 0.37 };

  it("puts them where the library's calculators put them, refined by the heat", async () => {
    const outputs = rawOutputs(11);
    const raw = await tensorsToLandmarks(
      tensor(outputs.points, [1, 195]),
      BLAZEPOSE_TENSORS_TO_LANDMARKS_CONFIG,
    );
    // The library's own networks give the heat after the sigmoid, these files before it.
    const heat = sigmoid(tensor4d(outputs.heat, [1, 64, 64, 39]));
    const config = BLAZEPOSE_REFINE_LANDMARKS_FROM_HEATMAP_CONFIG;
    const refined = await refineLandmarksFromHeatmap(raw, heat, config);
    expect(refined.filter(({ x }, index) => x !== raw[index]?.x).length).toBeGreaterThan(5);
    expect(refined.filter(({ x }, index) => x === raw[index]?.x).length).toBeGreaterThan(0);
    const theirs = calculateLandmarkProjection(refined, asRect(region));
    const ours = decodeLandmarks(outputs, region);
    const places = [...(ours?.pose.image ?? []), ours?.centre, ours?.onCircle];
    expect(places).toHaveLength(35);
    places.forEach((place, index) => {
      expect(place?.x).toBeCloseTo((theirs[index]?.x ?? 0) * SIZE.width, 3);
      expect(place?.y).toBeCloseTo((theirs[index]?.y ?? 0) * SIZE.height, 3);
    });
    ours?.pose.image.forEach(({ visibility }, index) =>
      expect(visibility).toBeCloseTo(raw[index]?.score ?? Number.NaN, 5),
    );
  });

  it("turns the metric landmarks as the library's calculator does", () => {
    const outputs = rawOutputs(12);
    const raw = Array.from({ length: 33 }, (_, index) => ({
      x: outputs.world[index * 3] ?? 0,
      y: outputs.world[index * 3 + 1] ?? 0,
      z: outputs.world[index * 3 + 2] ?? 0,
    }));
    const theirs = calculateWorldLandmarkProjection(raw, asRect(region));
    decodeLandmarks(outputs, region)?.pose.world.forEach(({ x, y, z }, index) => {
      expect(x).toBeCloseTo(theirs[index]?.x ?? Number.NaN, 6);
      expect(y).toBeCloseTo(theirs[index]?.y ?? Number.NaN, 6);
      expect(z).toBe(theirs[index]?.z);
    });
  });

  it('sees nobody below a presence of one half', () => {
    expect(decodeLandmarks({ ...rawOutputs(1), presence: new Float32Array([0.49]) }, region)).toBeNull();
    expect(decodeLandmarks({ ...rawOutputs(1), presence: new Float32Array([0.5]) }, region)).not.toBeNull();
  });
});

describe('the steady region', () => {
  it("moves as the library's filter moves it", () => {
    const config = BLAZEPOSE_LANDMARKS_SMOOTHING_CONFIG_AUXILIARY.oneEuroFilter;
    const theirs = Array.from({ length: 4 }, () => new OneEuroFilter(config));
    const ours = new SteadyRegion();
    const normal = seededNormal(3);
    let walk = 300;
    for (let index = 0; index < 120; index += 1) {
      const seconds = 1 + index / 15 + 0.004 * (index % 3);
      walk += index > 60 ? 3 : 0;
      const [centre, onCircle] = [
        { x: walk + normal(), y: 240 + normal() },
        { x: walk + 5 + normal(), y: 90 + normal() },
      ];
      const scale = 1 / (2 * Math.hypot(onCircle.x - centre.x, onCircle.y - centre.y));
      const [cx, cy, ox, oy] = [centre.x, centre.y, onCircle.x, onCircle.y].map((value, k) =>
        theirs[k]?.apply(value, Math.round(seconds * 1e6), scale),
      );
      const expected = regionOfBody({ x: cx ?? 0, y: cy ?? 0 }, { x: ox ?? 0, y: oy ?? 0 });
      const got = ours.next(centre, onCircle, Math.round(seconds * 1e6) / 1e6);
      expect(got?.centreX).toBeCloseTo(expected?.centreX ?? Number.NaN, 6);
      expect(got?.centreY).toBeCloseTo(expected?.centreY ?? Number.NaN, 6);
      expect(got?.sizePx).toBeCloseTo(expected?.sizePx ?? Number.NaN, 6);
    }
  });

  it('takes the next body as it is after it was made to forget', () => {
    const ours = new SteadyRegion();
    ours.next({ x: 100, y: 200 }, { x: 100, y: 100 }, 1);
    ours.next({ x: 100, y: 200 }, { x: 100, y: 100 }, 1.1);
    ours.forget();
    expect(ours.next({ x: 400, y: 200 }, { x: 400, y: 120 }, 1.2)).toMatchObject({
      centreX: 400,
      sizePx: 200,
    });
  });
});
