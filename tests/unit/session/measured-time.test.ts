import { describe, expect, it } from 'vitest';
import { measureSet } from '../../../src/core/kinematics/measure-set.ts';
import { measuredTimeOf } from '../../../src/core/session/measured-time.ts';
import { withPose } from '../../helpers/synthetic-body.ts';
import { curlFilm } from './sample-session.ts';

const SETTINGS = { side: 'left', statureCm: 175 } as const;

describe('how much of a set was measured', () => {
  it('is all of it when the arm is seen throughout', () => {
    const measured = measuredTimeOf(measureSet(curlFilm(8), SETTINGS));
    expect(measured.totalSeconds).toBeCloseTo(8 - 1 / 30, 6);
    expect(measured.share).toBeGreaterThan(0.99);
  });

  it('gives the time without a person to "nobody", and the time without pictures to "gap"', () => {
    const frames = curlFilm(12)
      .map((frame) =>
        withPose(frame, (pose) => (frame.timeSeconds >= 2 && frame.timeSeconds < 5 ? null : pose)),
      )
      .filter(({ timeSeconds }) => timeSeconds < 8 || timeSeconds >= 10);
    const { totalSeconds, share, notMeasuredSeconds } = measuredTimeOf(measureSet(frames, SETTINGS));
    expect(totalSeconds).toBeCloseTo(12 - 1 / 30, 6);
    expect(notMeasuredSeconds.nobody).toBeCloseTo(3, 1);
    expect(notMeasuredSeconds.gap).toBeCloseTo(2, 1);
    const missing = Object.values(notMeasuredSeconds).reduce((sum, seconds) => sum + seconds, 0);
    expect((share ?? 0) * totalSeconds + missing).toBeCloseTo(totalSeconds, 6);
  });

  it('is unknown, not zero, without time', () => {
    expect(measuredTimeOf(measureSet([], SETTINGS)).share).toBeNull();
  });
});
