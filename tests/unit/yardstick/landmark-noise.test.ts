import { describe, expect, it } from 'vitest';
import { measureTremble } from '../../../scripts/yardstick/measure-tremble.ts';
import { LANDMARK_NAMES, sidedIndex } from '../../../src/core/pose/landmark.ts';
import type { Pose, PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import {
  CORRELATION_SECONDS,
  landmarkNoise,
  SD_OVER_TREMBLE,
  TREMBLE,
} from '../../yardstick/landmark-noise.ts';

const TRUNK_PX = 150;
const RATE_HZ = 30;

/** A person who stands still, facing the camera with the right side. */
const still: Pose = {
  image: LANDMARK_NAMES.map((name, i) => {
    const y = name.endsWith('hip') ? 100 + TRUNK_PX : name.endsWith('shoulder') ? 100 : 100 + 5 * i;
    return { x: 300, y, visibility: 0.9 };
  }),
  world: LANDMARK_NAMES.map(() => ({ x: 0, y: 0, z: 0 })),
};

function trembling(seed: number, size: number, count: number): PoseFrame[] {
  const withNoise = landmarkNoise(seed, 'right', size);
  return Array.from({ length: count }, (_, i) => ({
    timeSeconds: i / RATE_HZ,
    widthPx: 640,
    heightPx: 480,
    pose: withNoise(still, i / RATE_HZ, TRUNK_PX),
    people: 1,
    brightness: null,
  }));
}

const elbowX = (frames: readonly PoseFrame[], side: 'left' | 'right'): number[] =>
  frames.map(({ pose }) => (pose?.image[sidedIndex(side, 'elbow')]?.x ?? NaN) - 300);
const meanProduct = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0) / a.length;

describe('noise from picture to picture', () => {
  it('has the size that was measured, relative to the trunk, on both sides', () => {
    const frames = trembling(1, 1, 6000);
    for (const [side, where] of [
      ['right', 'near'],
      ['left', 'far'],
    ] as const) {
      const values = elbowX(frames, side);
      const sd = Math.sqrt(meanProduct(values, values));
      expect(sd / (TREMBLE[where].elbow.imageTrunks * SD_OVER_TREMBLE * TRUNK_PX)).toBeCloseTo(1, 1);
    }
  });

  it('lasts as long as was measured, and no landmark trembles with another', () => {
    const frames = trembling(2, 1, 6000);
    const [near, far] = [elbowX(frames, 'right'), elbowX(frames, 'left')];
    const keep = meanProduct(near.slice(0, -1), near.slice(1)) / meanProduct(near, near);
    expect(keep).toBeCloseTo(Math.exp(-1 / RATE_HZ / CORRELATION_SECONDS), 1);
    const together = meanProduct(near, far) / Math.sqrt(meanProduct(near, near) * meanProduct(far, far));
    expect(Math.abs(together)).toBeLessThan(0.05);
  });

  it('is none at size 0, and grows with the size', () => {
    expect(trembling(3, 0, 3)[2]?.pose).toEqual(still);
    const [once, twice] = [elbowX(trembling(3, 1, 50), 'right'), elbowX(trembling(3, 2, 50), 'right')];
    once.forEach((value, i) => expect(twice[i]).toBeCloseTo(2 * value, 9));
  });
});

describe('measuring how landmarks tremble', () => {
  const table = (frames: readonly PoseFrame[]) => measureTremble(frames, 'right');

  it('finds in made frames what they were made with', () => {
    const found = table(trembling(4, 1, 2000));
    for (const where of ['near', 'far'] as const)
      for (const part of ['elbow', 'hip', 'head'] as const)
        for (const kind of ['imageTrunks', 'worldM', 'depthM'] as const) {
          const share = found[where][part][kind] / TREMBLE[where][part][kind];
          expect(Math.abs(share - 1), `${where} ${part} ${kind}`).toBeLessThan(0.1);
        }
  });

  it('does not take a steady movement or a jump of the tracker for noise', () => {
    const frames = trembling(5, 1, 2000).map((frame, i): PoseFrame => {
      const shift = 0.4 * i + (i % 500 === 250 ? 80 : 0);
      return frame.pose === null
        ? frame
        : {
            ...frame,
            pose: { ...frame.pose, image: frame.pose.image.map((p) => ({ ...p, x: p.x + shift })) },
          };
    });
    const share = table(frames).near.elbow.imageTrunks / TREMBLE.near.elbow.imageTrunks;
    expect(Math.abs(share - 1)).toBeLessThan(0.1);
  });

  it('refuses too few frames', () => {
    expect(() => measureTremble(trembling(6, 1, 50), 'right')).toThrow(/too few/);
  });
});
