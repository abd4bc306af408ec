import { describe, expect, it } from 'vitest';
import { mirroredPicture } from '../../../scripts/yardstick/mirror.ts';
import { mirroredBack } from '../../../src/core/pose/exchange-labels.ts';
import { sidedIndex } from '../../../src/core/pose/landmark.ts';
import { sampleRegion } from '../../../src/core/pose/network/sample-region.ts';
import { curl, SyntheticNetwork } from '../../helpers/synthetic-body.ts';

describe('mirrored pictures', () => {
  const picture = {
    kind: 'rgb',
    redAt: 0,
    columns: 3,
    rows: 2,
    widthPx: 3,
    heightPx: 2,
    pixels: Uint8Array.from({ length: 24 }, (_, i) => 10 * i),
  } as const;

  it('have left and right exchanged in every row', () => {
    const { pixels } = mirroredPicture(picture);
    expect([...pixels.slice(0, 12)]).toEqual([80, 90, 100, 110, 40, 50, 60, 70, 0, 10, 20, 30]);
    expect(mirroredPicture(mirroredPicture(picture)).pixels).toEqual(picture.pixels);
  });

  it('show at the mirrored place what the picture shows', () => {
    const look = (from: typeof picture | ReturnType<typeof mirroredPicture>, centreX: number): number => {
      const input = new Float32Array(3);
      sampleRegion(
        from,
        { centreX, centreY: 0.7, sizePx: 1, turnRad: 0 },
        1,
        input,
        { low: 0, high: 1 },
        'edge',
      );
      return input[0] ?? NaN;
    };
    expect(look(mirroredPicture(picture), 3 - 0.8)).toBeCloseTo(look(picture, 0.8), 6);
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
