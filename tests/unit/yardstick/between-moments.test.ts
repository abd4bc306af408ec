import { describe, expect, it } from 'vitest';
import { betweenMoments } from '../../../scripts/yardstick/between-moments.ts';
import { traceOf } from '../../yardstick/trace.ts';
import { caseOf, imaginedPoses, momentsOf } from './imagined-case.ts';

const CLIP = 'body-curl-strict';
const dense = caseOf(CLIP, momentsOf(CLIP, 48));

describe('what interpolation misses between moments', () => {
  it('is next to nothing for an error that stays, while the network itself errs', () => {
    const trace = traceOf(
      dense,
      imaginedPoses(dense, () => ({ x: 3, y: 4 })),
    );
    const missed = betweenMoments(dense, trace, 'full', 16);
    expect(missed?.moments).toBe(32);
    expect(missed?.interpolated.armPx).toBeLessThan(0.1);
    expect(missed?.network.armPx).toBeCloseTo(5, 1);
    // All three points moved alike: the angle stays.
    expect(missed?.network.elbowDeg).toBeLessThan(0.2);
  });

  it('is seen where the error changes faster than the moments that are given', () => {
    const wild = imaginedPoses(dense, (name, { truth }) => ({
      x: name.endsWith('elbow') ? 8 * Math.sin(truth.elbowFlexionDeg) : 0,
      y: 0,
    }));
    const missed = betweenMoments(dense, traceOf(dense, wild), 'full', 16);
    expect(missed?.interpolated.armPx).toBeGreaterThan(1);
    expect(missed?.interpolated.elbowDeg).toBeGreaterThan(1);
  });

  it('cannot be said where nobody is found', () => {
    const nobody = imaginedPoses(
      dense,
      () => ({ x: 0, y: 0 }),
      () => false,
    );
    expect(betweenMoments(dense, traceOf(dense, nobody), 'full', 16)).toBeNull();
  });
});
