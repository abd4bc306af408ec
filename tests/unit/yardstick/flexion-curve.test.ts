import { describe, expect, it } from 'vitest';
import { flexionCurve } from '../../yardstick/flexion-curve.ts';

const knot = (flexionDeg: number, ...values: number[]) => ({ flexionDeg, values });

describe('curve over flexion', () => {
  it('goes through the knots, whatever their order', () => {
    const curve = flexionCurve([knot(90, 4, -1), knot(10, 1, 5), knot(50, 2, 0)]);
    expect(curve(10)).toEqual([1, 5]);
    expect(curve(50)).toEqual([2, 0]);
    expect(curve(90)).toEqual([4, -1]);
  });

  it('is constant beyond the ends', () => {
    const curve = flexionCurve([knot(20, 1), knot(60, 3)]);
    expect(curve(-5)).toEqual([1]);
    expect(curve(150)).toEqual([3]);
  });

  it('never leaves the knots on either side of it, and rises where they rise', () => {
    const curve = flexionCurve([knot(0, 0), knot(10, 0), knot(20, 5), knot(30, 5.2), knot(80, 1)]);
    let last = -1;
    for (let deg = 0; deg <= 30; deg += 0.5) {
      const [value = NaN] = curve(deg);
      expect(value).toBeGreaterThanOrEqual(last - 1e-12);
      expect(value).toBeLessThanOrEqual(5.2 + 1e-12);
      last = value;
    }
  });

  it('follows a smooth error closely between knots 10 deg apart', () => {
    const error = (deg: number): number => 4 * Math.sin(deg / 40) + deg / 50;
    const curve = flexionCurve(Array.from({ length: 15 }, (_, i) => knot(i * 10, error(i * 10))));
    for (let deg = 10; deg <= 130; deg += 1)
      expect(Math.abs((curve(deg)[0] ?? NaN) - error(deg))).toBeLessThan(0.1);
  });

  it('takes the mean of pictures of the same posture', () => {
    const curve = flexionCurve([knot(89.5, 1), knot(90.5, 3), knot(20, 0)]);
    expect(curve(90)).toEqual([2]);
  });

  it('needs a knot', () => {
    expect(() => flexionCurve([])).toThrow(/no knot/);
    expect(flexionCurve([knot(30, 7)])(100)).toEqual([7]);
  });
});
