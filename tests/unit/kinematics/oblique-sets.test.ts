import { describe, expect, it } from 'vitest';
import { measureSet } from '../../../src/core/kinematics/measure-set.ts';
import { isMeasured } from '../../../src/core/kinematics/measured.ts';
import { obliqueSet, type ObliqueKind } from '../../helpers/oblique-sets.ts';

/** Bodies on which no constant was set; those up to 5000 are for setting them. */
const FIRST_JUDGING_SEED = 9001;
const SETS = 12;

/** Errors over sets of random bodies, cameras and arm planes: means, and the share within the intervals. */
function errorsOf(kind: ObliqueKind, yawDeg: number) {
  let [absolute, signed, within, count, pictures] = [0, 0, 0, 0, 0];
  for (let i = 0; i < SETS; i++) {
    const { side, statureCm, frames, truthDeg, fromSeconds } = obliqueSet(
      kind,
      yawDeg,
      FIRST_JUDGING_SEED + i,
    );
    measureSet(frames, { side, statureCm }).frames.forEach(({ timeSeconds, elbowFlexionDeg }, at) => {
      if (timeSeconds < fromSeconds) return;
      pictures++;
      if (!isMeasured(elbowFlexionDeg)) return;
      const error = elbowFlexionDeg.value - (truthDeg[at] ?? NaN);
      absolute += Math.abs(error);
      signed += error;
      if (Math.abs(error) <= elbowFlexionDeg.high - elbowFlexionDeg.value) within++;
      count++;
    });
  }
  return {
    meanDeg: absolute / count,
    biasDeg: signed / count,
    coverage: within / count,
    share: count / pictures,
  };
}

describe('elbow flexion of simulated sets from an oblique camera', () => {
  it.each([
    ['standing', 0, 3.3, 1],
    ['standing', 30, 3.6, 0.95],
    ['standing', 45, 4.5, 0.6],
    ['hold', 15, 3.3, 1],
    ['hold', 45, 4.5, 0.6],
    ['body-curl', 0, 4, 1],
    ['body-curl', 30, 5, 0.95],
  ] as const)(
    '%s at %d deg is right to %d deg on average, and knows how far',
    (kind, yawDeg, goalDeg, leastShare) => {
      const { meanDeg, biasDeg, coverage, share } = errorsOf(kind, yawDeg);
      expect(meanDeg).toBeLessThan(goalDeg);
      expect(Math.abs(biasDeg)).toBeLessThan(2.5);
      expect(coverage).toBeGreaterThan(0.85);
      expect(share).toBeGreaterThanOrEqual(leastShare);
    },
  );
});
