import { describe, expect, it } from 'vitest';
import type { LandmarkSource } from '../../../src/core/kinematics/landmark-errors.ts';
import { LiveMeasurer } from '../../../src/core/kinematics/live-measurer.ts';
import { measureSet } from '../../../src/core/kinematics/measure-set.ts';
import { isMeasured, valueOf } from '../../../src/core/kinematics/measured.ts';
import { median } from '../../../src/core/math/statistics.ts';
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

  it('is as unsure as what gave the landmarks, whatever that is in a picture', () => {
    const [fine, poor] = [new LiveMeasurer(settings), new LiveMeasurer(settings)];
    const width = (live: LiveMeasurer, landmarks: LandmarkSource): number => {
      const angles = film.map((frame) => live.step(frame, landmarks).frame.elbowFlexionDeg);
      return median(angles.flatMap((angle) => (isMeasured(angle) ? angle.high - angle.low : []))) ?? NaN;
    };
    expect(width(poor, 'blazepose-lite')).toBeGreaterThan(1.3 * width(fine, 'blazepose-full'));
  });

  it('takes the plane from the body until the arm has bent and come to rest, then keeps a fitted one', () => {
    const live = new LiveMeasurer(settings);
    const views = film.map((frame) => live.step(frame).view);
    const methods = views.map((view) => view.method);
    const first = methods.indexOf('set-plane');
    expect(first).toBeGreaterThan(45);
    expect(first).toBeLessThan(150);
    expect(new Set(methods.slice(first))).toEqual(new Set(['set-plane']));
    expect(new Set(methods.slice(0, first)).has('set-plane')).toBe(false);
    // Fitted again as the arm goes on moving, but not with every picture.
    const planes = new Set(views.slice(first).map((view) => view.cameraYawDeg));
    expect(planes.size).toBeGreaterThan(1);
    expect(planes.size).toBeLessThan(5);
  });

  it('drops the plane of a body that turns', () => {
    const live = new LiveMeasurer(settings);
    film.forEach((frame) => live.step(frame));
    const turned = new SyntheticNetwork({ noise: NETWORK_NOISE, camera: { yawDeg: -20 } })
      .film(curl({ fromDeg: 30, toDeg: 30 }), 2, 30)
      .map((frame) => live.step({ ...frame, timeSeconds: frame.timeSeconds + 10 }).view.method);
    expect(turned.at(-1)).not.toBe('set-plane');
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
