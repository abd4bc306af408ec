import { describe, expect, it } from 'vitest';
import { solve } from '../../../src/core/math/linear-system.ts';

describe('solve', () => {
  it('solves a system whose first pivot is 0', () => {
    const x = solve(
      [
        [0, 2, 1],
        [1, -1, 3],
        [4, 0, -2],
      ],
      [7, 8, -2],
    );
    expect(x[0]).toBeCloseTo(1, 12);
    expect(x[1]).toBeCloseTo(2, 12);
    expect(x[2]).toBeCloseTo(3, 12);
  });

  it('gives 0 along a direction that nothing fixes', () => {
    const x = solve(
      [
        [1, 0],
        [0, 0],
      ],
      [4, 0],
    );
    expect(x).toEqual([4, 0]);
  });
});
