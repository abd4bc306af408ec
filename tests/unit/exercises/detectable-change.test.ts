import { describe, expect, it } from 'vitest';
import { DETECTABLE_CHANGE } from '../../../src/core/exercises/detectable-change.ts';

describe('least detectable change', () => {
  const rows = Object.entries(DETECTABLE_CHANGE).flatMap(([movement, quantities]) =>
    Object.entries(quantities).map(([quantity, row]) => [`${movement} ${quantity}`, row] as const),
  );

  it.each(rows)(
    'of %s is smallest where nothing was moved',
    (_, { sameSetUp, cameraTo20Deg, cameraTo45Deg }) => {
      expect(sameSetUp).toBeGreaterThan(0);
      expect(cameraTo20Deg).toBeGreaterThan(sameSetUp);
      expect(cameraTo45Deg).toBeGreaterThanOrEqual(cameraTo20Deg);
    },
  );

  it('of an elbow angle is of the size that a goniometer in one hand resolves, not ten times so', () => {
    // 6 degrees for flexion: Armstrong and others, J Shoulder Elbow Surg 7 (1998) 573-580.
    const { cameraTo20Deg } = DETECTABLE_CHANGE.hold.holdElbowDeg;
    expect(cameraTo20Deg).toBeGreaterThan(2);
    expect(cameraTo20Deg).toBeLessThan(30);
  });
});
