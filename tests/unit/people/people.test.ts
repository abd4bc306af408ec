import { describe, expect, it } from 'vitest';
import { clipFigures } from '../../../scripts/people/clip-figures.ts';
import { compareViews, elbowOf } from '../../../scripts/people/two-views.ts';
import { exchangeLabels } from '../../../src/core/pose/exchange-labels.ts';
import {
  ELBOW_SHORT,
  STANDING,
  SyntheticNetwork,
  withPose,
  type Posture,
} from '../../helpers/synthetic-body.ts';

const RATE_HZ = 8;
/** Bends of the elbow of three seconds each. */
const bending = (timeSeconds: number): Posture => ({
  ...STANDING,
  elbowFlexionDeg: 65 - 55 * Math.cos((2 * Math.PI * timeSeconds) / 3),
});
const film = (yawDeg: number) =>
  new SyntheticNetwork({ side: 'left', camera: { yawDeg } }).film(bending, 12, RATE_HZ);

describe('a clip without known angles', () => {
  const figures = clipFigures(film(20));
  const [left, right] = figures.arms;

  it('shows where the elbow must lie for the arm to keep its lengths', () => {
    const lengths = left.lengths;
    expect(Math.abs((lengths?.best.elbowShort ?? NaN) - ELBOW_SHORT)).toBeLessThan(0.035);
    expect(lengths?.usual.forearm).toBeLessThan(0.02);
    // Left where the network puts it, the forearm seems to grow and shrink with the bend.
    expect(lengths?.none.forearm).toBeGreaterThan(1.5 * (lengths?.usual.forearm ?? NaN));
  });

  it('tells what was measured, how smoothly, and why not', () => {
    expect(left.measuredShare).toBeGreaterThan(0.95);
    expect(left.jumps).toBe(0);
    expect(right.measuredShare).toBe(0);
    expect(right.commonestReason).toBe('wrong-side');
  });

  it('counts labels that change sides, and those that are left after the gate', () => {
    expect(figures.exchangesFound).toBe(0);
    const turned = film(40).map((frame, i) =>
      i % 20 === 10 ? withPose(frame, (pose) => exchangeLabels(pose)) : frame,
    );
    const exchanged = clipFigures(turned);
    // There and back again, five times.
    expect(exchanged.exchangesFound).toBe(10);
    expect(exchanged.exchangesLeft).toBe(0);
  });

  it('counts an angle that leaves its neighbours as a jump', () => {
    const jumping = film(10).map((frame, i) =>
      i === 40
        ? withPose(frame, () =>
            new SyntheticNetwork({ side: 'left', camera: { yawDeg: 10 } }).pose({
              ...STANDING,
              elbowFlexionDeg: (65 - 55 * Math.cos((2 * Math.PI * 5) / 3) + 70) % 140,
            }),
          )
        : frame,
    );
    const arm = clipFigures(jumping).arms[0];
    expect(arm.worstSeconds[0]).toBeGreaterThan(4.7);
    expect(arm.worstSeconds[0]).toBeLessThan(5.3);
  });
});

describe('two cameras on one arm', () => {
  const [near, turned] = [clipFigures(film(5)), clipFigures(film(30))];

  it('agree on the same movement', () => {
    const of = compareViews(elbowOf(...near.arms), elbowOf(...turned.arms));
    expect(of?.both).toBeGreaterThan(90);
    expect(of?.meanAbsoluteDeg).toBeLessThan(4);
    expect(of?.agreeing).toBe(1);
  });

  it('do not when one shows another movement, and have nothing to compare at other times', () => {
    const series = elbowOf(...near.arms);
    const late = series.map((frame) => ({ ...frame, timeSeconds: frame.timeSeconds + 1.5 }));
    expect(compareViews(series, late)?.agreeing).toBeLessThan(0.6);
    const later = series.map((frame) => ({ ...frame, timeSeconds: frame.timeSeconds + 100 }));
    expect(compareViews(series, later)).toBeNull();
  });
});
