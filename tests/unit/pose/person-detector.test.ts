import { tensor1d, tensor2d } from '@tensorflow/tfjs';
import {
  BLAZEPOSE_DETECTOR_ANCHOR_CONFIGURATION,
  BLAZEPOSE_TENSORS_TO_DETECTION_CONFIGURATION,
} from '@tensorflow-models/pose-detection/dist/blazepose_tfjs/constants.js';
import { createSsdAnchors } from '@tensorflow-models/pose-detection/dist/shared/calculators/create_ssd_anchors.js';
import { tensorsToDetections } from '@tensorflow-models/pose-detection/dist/shared/calculators/tensors_to_detections.js';
import { describe, expect, it } from 'vitest';
import { decodePeople, letterbox } from '../../../src/core/pose/person-detector.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';

const BOXES = 2254;
const VALUES = 12;

/** Raw output in which the given boxes alone have a score; their places are drawn from the seed. */
function rawOutput(chosen: readonly number[], boxPx: number, seed: number) {
  const random = seededRandom(seed);
  const boxes = new Float32Array(BOXES * VALUES);
  const scores = new Float32Array(BOXES).fill(-120);
  for (const index of chosen) {
    for (let k = 0; k < VALUES; k += 1)
      boxes[index * VALUES + k] = k === 2 || k === 3 ? boxPx : (random() - 0.5) * 60;
    scores[index] = 1 + random() * 3;
  }
  return { boxes, scores };
}

describe('decoding the person detector', () => {
  it("places boxes that do not overlap where the pose-detection package's own decoder places them", async () => {
    // Outside check: the package's published calculators, run on the same raw numbers.
    const { boxes, scores } = rawOutput([0, 3, 777, 1567, 1568, 1900, 1960, 2100, 2253], 0.01, 7);
    const anchors = createSsdAnchors(BLAZEPOSE_DETECTOR_ANCHOR_CONFIGURATION);
    const expected = await tensorsToDetections(
      [tensor1d(scores), tensor2d(boxes, [BOXES, VALUES])],
      {
        x: tensor1d(anchors.map(({ xCenter }) => xCenter)),
        y: tensor1d(anchors.map(({ yCenter }) => yCenter)),
        w: tensor1d(anchors.map(({ width }) => width)),
        h: tensor1d(anchors.map(({ height }) => height)),
      },
      BLAZEPOSE_TENSORS_TO_DETECTION_CONFIGURATION,
    );
    const square = letterbox(224, 224);
    const got = decodePeople(boxes, scores, square);
    expect(got).toHaveLength(9);
    const strongestFirst = expected.toSorted((a, b) => (b.score?.[0] ?? 0) - (a.score?.[0] ?? 0));
    got.forEach((person, index) => {
      const points = strongestFirst[index]?.locationData.relativeKeypoints ?? [];
      const [hip, circle, shoulder] = points.map(({ x, y }) => ({ x: x * 224, y: y * 224 }));
      if (hip === undefined || circle === undefined || shoulder === undefined) throw new Error('no points');
      expect(person.score).toBeCloseTo(strongestFirst[index]?.score?.[0] ?? 0, 5);
      expect(person.midHip.x).toBeCloseTo(hip.x, 3);
      expect(person.midHip.y).toBeCloseTo(hip.y, 3);
      expect(person.midShoulder.x).toBeCloseTo(shoulder.x, 3);
      expect(person.midShoulder.y).toBeCloseTo(shoulder.y, 3);
      expect(person.bodyRadiusPx).toBeCloseTo(Math.hypot(circle.x - hip.x, circle.y - hip.y), 3);
    });
  });

  it('joins boxes that overlap into their mean, weighted by the score', () => {
    const boxes = new Float32Array(BOXES * VALUES);
    const scores = new Float32Array(BOXES).fill(-120);
    // The two boxes of cell 0 share their anchor (4, 4): hips at 14 and 24 pixels of the square.
    for (const [index, hip, raw] of [
      [0, 10, Math.log(0.9 / 0.1)],
      [1, 20, Math.log(0.6 / 0.4)],
    ] as const) {
      boxes[index * VALUES + 2] = 40;
      boxes[index * VALUES + 3] = 40;
      boxes[index * VALUES + 4] = hip;
      scores[index] = raw;
    }
    const [person, ...more] = decodePeople(boxes, scores, letterbox(224, 224));
    expect(more).toEqual([]);
    expect(person?.score).toBeCloseTo(0.9, 5);
    expect(person?.midHip.x).toBeCloseTo((0.9 * 14 + 0.6 * 24) / 1.5, 4);
  });

  it('says nobody where every score is below one half', () => {
    const scores = new Float32Array(BOXES).fill(-0.01);
    expect(decodePeople(new Float32Array(BOXES * VALUES), scores, letterbox(640, 480))).toEqual([]);
  });

  it('gives places in pixels of a wide and of a tall picture', () => {
    const boxes = new Float32Array(BOXES * VALUES);
    const scores = new Float32Array(BOXES).fill(-120);
    // Box 2253 is the last of the last cell of the 7 x 7 grid: anchor 208, 208; 96 back gives the middle, 112.
    boxes[2253 * VALUES + 4] = -96;
    boxes[2253 * VALUES + 5] = -96;
    scores[2253] = 3;
    const middleOf = (width: number, height: number) =>
      decodePeople(boxes, scores, letterbox(width, height))[0]?.midHip;
    expect(middleOf(640, 480)).toEqual({ x: expect.closeTo(320, 3), y: expect.closeTo(240, 3) });
    expect(middleOf(480, 640)).toEqual({ x: expect.closeTo(240, 3), y: expect.closeTo(320, 3) });
  });

  it('refuses output of another size', () => {
    expect(() => decodePeople(new Float32Array(12), new Float32Array(1), letterbox(10, 10))).toThrow('2254');
  });
});
