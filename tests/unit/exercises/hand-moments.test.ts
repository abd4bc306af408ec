import { describe, expect, it } from 'vitest';
import { handMoments, momentShares } from '../../../src/core/exercises/hand-moments.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { isMeasured } from '../../../src/core/kinematics/measured.ts';
import { traceSeries, type Posture } from '../../helpers/kinematic-traces.ts';

describe('moments of the hand force', () => {
  const shoulder = { forward: 0, up: 0 };

  /**
   * By hand: the elbow 0.8 in front of the shoulder and 0.6 below it (an upper arm of 1), the hand 0.3 in front of the
   * shoulder and 0.4 above it. A force of 1 straight up through the hand has the levers 0.8 - 0.3 = 0.5 at the elbow,
   * which it straightens, and 0.3 at the shoulder, which it raises: flexors 0.5, extensors 0.3.
   */
  it('with the force vertical are the horizontal distances', () => {
    const moments = handMoments(shoulder, { forward: 0.8, up: -0.6 }, { forward: 0.3, up: 0.4 }, 0);
    expect(moments.elbow).toBeCloseTo(0.5, 12);
    expect(moments.shoulder).toBeCloseTo(0.3, 12);
  });

  /**
   * By hand, the same tilted 20 deg forward, F = (sin 20, cos 20) = (0.34202, 0.93969): at the elbow
   * r = (-0.5, 1.0), r x F = -0.5 * 0.93969 - 1.0 * 0.34202 = -0.81187, flexors 0.81187; at the shoulder r = (0.3, 0.4),
   * 0.3 * 0.93969 - 0.4 * 0.34202 = 0.14510, extensors 0.14510.
   */
  it('with the force tilted follow r x F', () => {
    const moments = handMoments(shoulder, { forward: 0.8, up: -0.6 }, { forward: 0.3, up: 0.4 }, 20);
    expect(moments.elbow).toBeCloseTo(0.81187, 4);
    expect(moments.shoulder).toBeCloseTo(0.1451, 4);
  });

  it('are nothing in an arm that hangs straight from the hand', () => {
    const moments = handMoments(shoulder, { forward: 0, up: 1 }, { forward: 0, up: 2 }, 0);
    expect(moments.elbow).toBeCloseTo(0, 12);
    expect(moments.shoulder).toBeCloseTo(0, 12);
  });

  it('need shoulder extensors alone when the forearm hangs straight below the hand in front of the shoulder', () => {
    const moments = handMoments(shoulder, { forward: 0.5, up: -0.5 }, { forward: 0.5, up: 0.4 }, 0);
    expect(moments.elbow).toBeCloseTo(0, 12);
    expect(moments.shoulder).toBeCloseTo(0.5, 12);
  });
});

describe("the elbow's share of the moment", () => {
  const frames = (posture: Posture) => traceSeries({ seconds: 1, posture: () => posture }).frames;

  /**
   * By hand: upper arm level in front of an upright trunk (90 deg), elbow at 120, so the forearm points 30 deg up from
   * straight back: hand at 1 - 1.0753 cos 60 = 0.4624 in front of the shoulder (forearm and half the hand are
   * 0.2 / 0.186 = 1.0753 upper arms). Levers 0.5376 and 0.4624: share 0.5376.
   */
  it('agrees with a calculation by hand', () => {
    const shares = momentShares(frames({ elbowDeg: 120, shoulderDeg: 90 }), DEFAULT_THRESHOLDS);
    const { elbowMomentShare, elbowMomentShareTiltedLow, elbowMomentShareTiltedHigh } = shares;
    if (!isMeasured(elbowMomentShare)) throw new Error('not measured');
    expect(elbowMomentShare.value).toBeCloseTo(0.5376, 3);
    expect(elbowMomentShare.low).toBeLessThan(elbowMomentShare.value);
    if (!isMeasured(elbowMomentShareTiltedLow) || !isMeasured(elbowMomentShareTiltedHigh)) throw new Error();
    expect(elbowMomentShareTiltedLow.value).toBeLessThan(elbowMomentShare.value);
    expect(elbowMomentShareTiltedHigh.value).toBeGreaterThan(elbowMomentShare.value);
  });

  it('is refused for an arm that hangs straight from the hand', () => {
    const hanging = frames({ elbowDeg: 0, shoulderDeg: 180 });
    expect(momentShares(hanging, { ...DEFAULT_THRESHOLDS, forceTiltDeg: 0 })).toEqual({
      elbowMomentShare: { notMeasured: 'not-applicable' },
      elbowMomentShareTiltedLow: { notMeasured: 'not-applicable' },
      elbowMomentShareTiltedHigh: { notMeasured: 'not-applicable' },
    });
  });

  it('is not measured without a hand', () => {
    const shares = momentShares(frames({ elbowDeg: 90, handUnseen: true }), DEFAULT_THRESHOLDS);
    expect(shares.elbowMomentShare).toEqual({ notMeasured: 'hand-not-seen' });
  });
});
