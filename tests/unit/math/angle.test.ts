import { describe, expect, it } from 'vitest';
import { angleBetweenDeg, signedAngleDeg } from '../../../src/core/math/angle.ts';

describe('angles between vectors', () => {
  it('keeps a millionth of a degree near 0 and 180, where an arc cosine would round it away', () => {
    const tiny = 1e-6 / (180 / Math.PI);
    expect(angleBetweenDeg(1, 0, Math.cos(tiny), Math.sin(tiny))).toBeCloseTo(1e-6, 12);
    expect(180 - angleBetweenDeg(1, 0, -Math.cos(tiny), Math.sin(tiny))).toBeCloseTo(1e-6, 8);
  });

  it('gives 0, not NaN, for a vector without length', () => {
    expect(angleBetweenDeg(0, 0, 1, 2)).toBe(0);
    expect(signedAngleDeg(3, 4, 0, 0)).toBe(0);
  });

  it('turns positive from the first axis towards the second', () => {
    expect(signedAngleDeg(1, 0, 0, 2)).toBeCloseTo(90, 12);
    expect(signedAngleDeg(0, 2, 1, 0)).toBeCloseTo(-90, 12);
  });
});
