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
import { getRotatedSubRectToRectTransformMatrix } from '@tensorflow-models/pose-detection/dist/shared/calculators/get_rotated_sub_rect_to_rect_transformation_matrix.js';
import { refineLandmarksFromHeatmap } from '@tensorflow-models/pose-detection/dist/shared/calculators/refine_landmarks_from_heatmap.js';
import { tensorsToLandmarks } from '@tensorflow-models/pose-detection/dist/shared/calculators/tensors_to_landmarks.js';
import { transformNormalizedRect } from '@tensorflow-models/pose-detection/dist/shared/calculators/transform_rect.js';
import { OneEuroFilter } from '@tensorflow-models/pose-detection/dist/shared/filters/one_euro_filter.js';
import { describe, expect, it } from 'vitest';
import { decodeLandmarks } from '../../../src/core/pose/network/landmark-outputs.ts';
import { meanBrightness } from '../../../src/core/pose/network/brightness.ts';
import { type Region, regionOfBody } from '../../../src/core/pose/network/region.ts';
import { sampleRegion } from '../../../src/core/pose/network/sample-region.ts';
import { SteadyRegion } from '../../../src/core/pose/network/steady-region.ts';
import {
  type PixelPicture,
  yuvColours,
  type YuvPicture,
} from '../../../src/core/pose/network/pixel-picture.ts';
import { seededNormal, seededRandom } from '../../helpers/seeded-random.ts';

// Outside checks: the published calculators of pose-detection 2.1.3, run on the same numbers.

const SIZE = { width: 640, height: 480 };
const DIRECTIONS = [0, 0.4, 1.2, 1.57, 2.4, 3.1, -0.3, -1.5, -2.8];
const RANGE = { low: 0, high: 1 };

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

/** A picture whose red grows by 1 a column and whose green grows by 1 a row: places can be read off. */
function ramp(columns: number, rows: number): PixelPicture {
  const pixels = new Uint8ClampedArray(columns * rows * 4);
  for (let row = 0; row < rows; row += 1)
    for (let column = 0; column < columns; column += 1)
      pixels.set([column, row, 128, 255], (row * columns + column) * 4);
  return { kind: 'rgb', redAt: 0, pixels, columns, rows, widthPx: columns, heightPx: rows };
}

describe('sampling a region', () => {
  const side = 16;
  const at = (input: Float32Array, column: number, row: number, channel: number): number =>
    (input[(row * side + column) * 3 + channel] ?? Number.NaN) * 255;

  it.each([0, 0.5, -2])("reads where the library's matrix puts each place, turned by %d", (turnRad) => {
    const region: Region = { centreX: 120, centreY: 110, sizePx: 90, turnRad };
    const input = new Float32Array(side * side * 3);
    sampleRegion(ramp(240, 220), region, side, input, RANGE, 'edge');
    const rect = { xCenter: 120, yCenter: 110, width: 90, height: 90, rotation: turnRad };
    const matrix = getRotatedSubRectToRectTransformMatrix(rect, 240, 220, false);
    for (const [column, row] of [
      [0, 0],
      [15, 0],
      [7, 8],
      [3, 15],
    ] as const) {
      const [u, v] = [(column + 0.5) / side, (row + 0.5) / side];
      const x = (matrix[0][0] * u + matrix[0][1] * v + matrix[0][3]) * 240;
      const y = (matrix[1][0] * u + matrix[1][1] * v + matrix[1][3]) * 220;
      // Colour n sits in the middle of pixel n, half a pixel further on.
      expect(at(input, column, row, 0)).toBeCloseTo(x - 0.5, 3);
      expect(at(input, column, row, 1)).toBeCloseTo(y - 0.5, 3);
    }
  });

  it("repeats the edge beyond the picture for landmarks, and is black there for the detector's square", () => {
    const region: Region = { centreX: 0, centreY: 20, sizePx: 40, turnRad: 0 };
    const edge = new Float32Array(side * side * 3);
    sampleRegion(ramp(60, 40), region, side, edge, RANGE, 'edge');
    expect(at(edge, 0, 8, 2)).toBeCloseTo(128, 3);
    expect(at(edge, 0, 8, 0)).toBe(0);
    const black = new Float32Array(side * side * 3);
    sampleRegion(ramp(60, 40), region, side, black, { low: -1, high: 1 }, 'black');
    expect(black[8 * side * 3 + 2]).toBe(-1);
    expect(black[(8 * side + 12) * 3 + 2]).toBeCloseTo(128 / 127.5 - 1, 5);
  });

  it('takes a very large picture by the same places when landmarks are given in a smaller size', () => {
    const input = new Float32Array(side * side * 3);
    const large = { ...ramp(240, 220), widthPx: 120, heightPx: 110 };
    sampleRegion(large, { centreX: 60, centreY: 55, sizePx: 45, turnRad: 0.5 }, side, input, RANGE, 'edge');
    const plain = new Float32Array(side * side * 3);
    sampleRegion(
      ramp(240, 220),
      { centreX: 120, centreY: 110, sizePx: 90, turnRad: 0.5 },
      side,
      plain,
      RANGE,
      'edge',
    );
    input.forEach((value, index) => expect(value).toBeCloseTo(plain[index] ?? Number.NaN, 5));
  });
});

/** A picture of one colour in planes, as cameras give it: a row of padding after each row of a plane. */
function planes(
  colour: readonly [number, number, number],
  colours: YuvPicture['colours'],
  isInterleaved: boolean,
): YuvPicture {
  const [columns, rows, pad] = [10, 6, 3];
  const chroma = { columns: 5, rows: 3 };
  const lumaStride = columns + pad;
  const chromaStride = (isInterleaved ? 2 : 1) * chroma.columns + pad;
  const lumaBytes = lumaStride * rows;
  const chromaBytes = chromaStride * chroma.rows;
  const pixels = new Uint8Array(lumaBytes + 2 * chromaBytes).fill(7);
  for (let row = 0; row < rows; row += 1)
    pixels.fill(colour[0], row * lumaStride, row * lumaStride + columns);
  const step = isInterleaved ? 2 : 1;
  const second = isInterleaved ? lumaBytes + 1 : lumaBytes + chromaBytes;
  for (let row = 0; row < chroma.rows; row += 1)
    for (let column = 0; column < chroma.columns; column += 1) {
      pixels[lumaBytes + row * chromaStride + column * step] = colour[1];
      pixels[second + row * chromaStride + column * step] = colour[2];
    }
  return {
    kind: 'yuv',
    pixels,
    columns,
    rows,
    widthPx: columns,
    heightPx: rows,
    luma: { offset: 0, stride: lumaStride },
    blueDifference: { offset: lumaBytes, stride: chromaStride },
    redDifference: { offset: second, stride: chromaStride },
    chromaStep: isInterleaved ? 2 : 1,
    across: 2,
    down: 2,
    colours,
  };
}

describe('pictures of luma and colour differences', () => {
  // Colour bars at 100 % in 8 bits: ITU-R BT.601-7 and BT.709-6 by their equations; the rounded values from memory.
  const BARS = [
    ['bt601', [235, 128, 128], [255, 255, 255]],
    ['bt601', [81, 90, 240], [255, 0, 0]],
    ['bt601', [145, 54, 34], [0, 255, 0]],
    ['bt601', [41, 240, 110], [0, 0, 255]],
    ['bt709', [63, 102, 240], [255, 0, 0]],
    ['bt709', [173, 42, 26], [0, 255, 0]],
    ['bt709', [32, 240, 118], [0, 0, 255]],
    ['bt709', [16, 128, 128], [0, 0, 0]],
  ] as const;

  it.each(BARS)('%s %j is the colour %j, in every place up to the edge', (equation, colour, expected) => {
    const side = 8;
    for (const isInterleaved of [false, true]) {
      const picture = planes(colour, yuvColours(equation, false), isInterleaved);
      const input = new Float32Array(side * side * 3);
      sampleRegion(picture, { centreX: 5, centreY: 3, sizePx: 14, turnRad: 0.3 }, side, input, RANGE, 'edge');
      input.forEach((value, index) => {
        // The bars are rounded to whole steps, of which one is up to 2 steps of a colour.
        expect(Math.abs(value * 255 - (expected[index % 3] ?? NaN))).toBeLessThan(2.2);
      });
    }
  });

  it('uses all of 0 to 255 where the picture does', () => {
    const input = new Float32Array(3);
    const region: Region = { centreX: 5, centreY: 3, sizePx: 1, turnRad: 0 };
    sampleRegion(planes([100, 128, 128], yuvColours('bt601', true), false), region, 1, input, RANGE, 'edge');
    expect(Array.from(input, (value) => value * 255)).toEqual(
      [100, 100, 100].map((grey) => expect.closeTo(grey, 3)),
    );
  });

  it('reads luma and colour differences where they lie', () => {
    // Luma grows by 2 a column and 3 a row; differences by 4 a block across and 5 a block down.
    const picture = planes([0, 0, 0], yuvColours('bt601', true), false);
    const { pixels, luma, blueDifference, redDifference } = picture;
    for (let row = 0; row < 6; row += 1)
      for (let column = 0; column < 10; column += 1)
        pixels[luma.offset + row * luma.stride + column] = 100 + 2 * column + 3 * row;
    for (let row = 0; row < 3; row += 1)
      for (let column = 0; column < 5; column += 1) {
        pixels[blueDifference.offset + row * blueDifference.stride + column] = 128 + 4 * column + 5 * row;
        pixels[redDifference.offset + row * redDifference.stride + column] = 128;
      }
    const input = new Float32Array(3);
    // The place (6.2, 3.4) in the picture: index 5.7, 2.9 of luma; block index 2.6, 1.2 of the differences.
    sampleRegion(picture, { centreX: 6.2, centreY: 3.4, sizePx: 1, turnRad: 0 }, 1, input, RANGE, 'edge');
    const bright = 100 + 2 * 5.7 + 3 * 2.9;
    const blue = 4 * 2.6 + 5 * 1.2;
    expect((input[0] ?? 0) * 255).toBeCloseTo(bright, 3);
    expect((input[2] ?? 0) * 255).toBeCloseTo(bright + 1.772 * blue, 3);
    expect((input[1] ?? 0) * 255).toBeCloseTo(bright - ((1.772 * 0.114) / 0.587) * blue, 3);
  });

  it('takes a colour that no screen has as the nearest one', () => {
    // Black luma with the least colour differences: green alone is above nothing, 0.391 x 128 + 0.813 x 128 = 154 at most.
    const green = meanBrightness(planes([16, 0, 0], yuvColours('bt601', false), false)) / 0.587;
    expect(green).toBeGreaterThan(150);
    expect(green).toBeLessThan(156);
  });

  it('knows how bright they are', () => {
    expect(meanBrightness(planes([235, 128, 128], yuvColours('bt601', false), false))).toBeCloseTo(255, 3);
    expect(meanBrightness(planes([16, 128, 128], yuvColours('bt601', false), true))).toBeCloseTo(0, 3);
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

describe('brightness', () => {
  it('weighs the colours as ITU-R BT.601 does', () => {
    const plain = (colour: readonly number[]): PixelPicture => ({
      kind: 'rgb',
      redAt: 0,
      pixels: new Uint8ClampedArray(Array.from({ length: 64 }, () => [...colour, 255]).flat()),
      columns: 8,
      rows: 8,
      widthPx: 8,
      heightPx: 8,
    });
    expect(meanBrightness(plain([255, 0, 0]))).toBeCloseTo(76.245, 3);
    expect(meanBrightness(plain([0, 255, 0]))).toBeCloseTo(149.685, 3);
    expect(meanBrightness(plain([255, 255, 255]))).toBeCloseTo(255, 3);
  });
});
