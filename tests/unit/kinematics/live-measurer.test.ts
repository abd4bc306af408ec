import { describe, expect, it } from 'vitest';
import { LiveMeasurer } from '../../../src/core/kinematics/live-measurer.ts';
import { measureSet } from '../../../src/core/kinematics/measure-set.ts';
import { valueOf } from '../../../src/core/kinematics/measured.ts';
import {
  curl,
  NETWORK_NOISE,
  SyntheticNetwork,
  transformed,
  withPose,
} from '../../helpers/synthetic-body.ts';

const settings = { side: 'left', statureCm: 175 } as const;

describe('LiveMeasurer', () => {
  const film = new SyntheticNetwork({ noise: NETWORK_NOISE, camera: { yawDeg: 20 } }).film(curl(), 10, 30);

  it('agrees with the record to a few degrees while the arm moves', () => {
    const record = measureSet(film, settings);
    const live = new LiveMeasurer(settings);
    const differences = film.map((frame, i) => {
      const angle = valueOf(live.step(frame).frame.elbowFlexionDeg) ?? NaN;
      return Math.abs(angle - (valueOf(record.frames[i]?.elbowFlexionDeg ?? { notMeasured: 'gap' }) ?? NaN));
    });
    const settled = differences.slice(60);
    expect(settled.reduce((sum, d) => sum + d, 0) / settled.length).toBeLessThan(3);
    expect(Math.max(...settled)).toBeLessThan(8);
  });

  it('knows the future of nothing: later pictures do not change earlier frames', () => {
    const [a, b] = [new LiveMeasurer(settings), new LiveMeasurer(settings)];
    const whole = film.map((frame) => a.step(frame).frame);
    const half = film.slice(0, 150).map((frame) => b.step(frame).frame);
    expect(half).toEqual(whole.slice(0, 150));
  });

  it('starts afresh after a reset', () => {
    const live = new LiveMeasurer(settings);
    const first = film.map((frame) => live.step(frame).frame);
    live.reset();
    expect(film.map((frame) => live.step(frame).frame)).toEqual(first);
  });

  it('asks for a new search when the landmarks leap, and carries no filter over the gap', () => {
    const live = new LiveMeasurer(settings);
    const broken = film.map((frame, i) =>
      i < 120 ? frame : transformed(frame, (point) => ({ ...point, x: point.x + 150 })),
    );
    const steps = broken.map((frame) => live.step(frame));
    expect(steps[120]?.resetTracker).toBe(true);
    expect(steps[121]?.frame.reason).toBe('tracking-jump');
    expect(steps[150]?.frame.reason).toBeNull();
  });

  it('says nobody at once, and measures again when the person is back', () => {
    const live = new LiveMeasurer(settings);
    const reasons = film.map(
      (frame, i) => live.step(i >= 60 && i < 75 ? withPose(frame, () => null) : frame).frame.reason,
    );
    expect(new Set(reasons.slice(60, 75))).toEqual(new Set(['nobody']));
    expect(reasons[75]).toBeNull();
  });
});
