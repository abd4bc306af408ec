import { describe, expect, it } from 'vitest';
import { exchangeLabels, mirroredBack } from '../../../src/core/pose/exchange-labels.ts';
import { landmarkIndex, sidedIndex } from '../../../src/core/pose/landmark.ts';
import { curl, SyntheticNetwork } from '../../helpers/synthetic-body.ts';

describe('exchanged labels', () => {
  const pose = new SyntheticNetwork({ side: 'left', camera: { yawDeg: 20 } }).pose(curl()(1));

  it('change the side of everything that has one, and nothing else', () => {
    const other = exchangeLabels(pose);
    expect(other.image[sidedIndex('left', 'elbow')]).toBe(pose.image[sidedIndex('right', 'elbow')]);
    expect(other.world[landmarkIndex('mouth_right')]).toBe(pose.world[landmarkIndex('mouth_left')]);
    expect(other.image[landmarkIndex('left_eye_inner')]).toBe(pose.image[landmarkIndex('right_eye_inner')]);
    expect(other.image[landmarkIndex('nose')]).toBe(pose.image[landmarkIndex('nose')]);
    expect(exchangeLabels(other)).toEqual(pose);
  });

  it('change only what is named', () => {
    const other = exchangeLabels(pose, ['wrist']);
    expect(other.image[sidedIndex('left', 'wrist')]).toBe(pose.image[sidedIndex('right', 'wrist')]);
    expect(other.image[sidedIndex('left', 'elbow')]).toBe(pose.image[sidedIndex('left', 'elbow')]);
  });
});

describe('poses of mirrored pictures', () => {
  it('are mirrored back with the person’s left as left', () => {
    const pose = new SyntheticNetwork({ side: 'left', camera: { yawDeg: 20 } }).pose(curl()(1));
    const back = mirroredBack(pose, 640);
    const [left, right] = [sidedIndex('left', 'wrist'), sidedIndex('right', 'wrist')];
    expect(back?.image[left]?.x).toBeCloseTo(640 - (pose.image[right]?.x ?? NaN), 9);
    expect(back?.world[left]?.x).toBeCloseTo(-(pose.world[right]?.x ?? NaN), 9);
    expect(mirroredBack(back, 640)?.image[left]?.x).toBeCloseTo(pose.image[left]?.x ?? NaN, 9);
    expect(mirroredBack(null, 640)).toBeNull();
  });
});
