import { describe, expect, it } from 'vitest';
import { measureSet } from '../../../src/core/kinematics/measure-set.ts';
import { isMeasured } from '../../../src/core/kinematics/measured.ts';
import { curl, NO_NOISE, SyntheticNetwork } from '../../helpers/synthetic-body.ts';

describe('measureSet', () => {
  it('gives one frame for each picture at its own time, and the true angles of an error-free square view', () => {
    const movement = curl();
    const film = new SyntheticNetwork({ noise: NO_NOISE }).film(movement, 8, 30);
    const { frames } = measureSet(film, { side: 'left', statureCm: 175 });
    expect(frames.map((frame) => frame.timeSeconds)).toEqual(film.map((frame) => frame.timeSeconds));
    for (const { timeSeconds, elbowFlexionDeg } of frames) {
      if (!isMeasured(elbowFlexionDeg)) throw new Error(`not measured at ${timeSeconds}`);
      expect(Math.abs(elbowFlexionDeg.value - movement(timeSeconds).elbowFlexionDeg)).toBeLessThan(0.5);
    }
  });
});
