import { describe, expect, it } from 'vitest';
import { createScenario, posePhantom } from '../../../demo-clips/generator/scenario.ts';
import { LANDMARK_NAMES, landmarkIndex, sidedIndex } from '../../../src/core/pose/landmark.ts';
import { exchangeLabels } from '../../../src/core/pose/exchange-labels.ts';
import { drawnSet, fullRateSet } from '../../yardstick/yardstick-set.ts';
import { traceOf } from '../../yardstick/trace.ts';
import { jointOf, truthOf } from '../../yardstick/truth.ts';
import { caseOf, imaginedPoses, momentsOf, type Offset } from './imagined-case.ts';

const CLIP = 'body-curl-strict';
const drawnCase = caseOf(CLIP, momentsOf(CLIP, 40));
const truthAt = truthOf(createScenario(drawnCase.outline));
/** An error that bends over flexion, as the network's does. */
const bending: Offset = (name, { truth }) => ({
  x: name.endsWith('elbow') ? 3 + (truth.elbowFlexionDeg / 40) ** 2 : 1,
  y: -truth.elbowFlexionDeg / 30,
});
const RATE_HZ = 10;
const plain = { model: 'full', rateHz: RATE_HZ, seed: 3, noise: 0 } as const;

describe('full-rate set of a case', () => {
  it('puts the error of the drawn moments on the true joints of every moment', () => {
    const { frames, truth } = fullRateSet(
      drawnCase,
      traceOf(drawnCase, imaginedPoses(drawnCase, bending)),
      plain,
    );
    expect(frames).toHaveLength(truth.length);
    expect(frames.length).toBe(Math.floor(createScenario(drawnCase.outline).durationS * RATE_HZ));
    for (const { timeSeconds, pose } of frames) {
      const moment = truthAt(timeSeconds);
      for (const name of ['left_elbow', 'left_wrist', 'right_hip', 'left_foot_index'] as const) {
        const { xPx, yPx } = moment.joints[jointOf(name)];
        const offset = bending(name, moment);
        const point = pose?.image[landmarkIndex(name)];
        expect(Math.abs((point?.x ?? NaN) - xPx - offset.x), name).toBeLessThan(0.35);
        expect(Math.abs((point?.y ?? NaN) - yPx - offset.y), name).toBeLessThan(0.15);
      }
    }
  });

  it('states the truth of the very moment of each frame, and the events', () => {
    const { truth, events } = fullRateSet(
      drawnCase,
      traceOf(drawnCase, imaginedPoses(drawnCase, bending)),
      plain,
    );
    const scenario = createScenario(drawnCase.outline);
    for (const row of truth.filter((_, i) => i % 20 === 0)) {
      const pose = posePhantom(scenario, row.timeSeconds);
      expect(row.elbowFlexionDeg).toBe(pose?.elbowFlexionDeg);
      expect(row.forearmRotationDeg).toBe(pose?.arm.forearmRotationDeg);
    }
    expect(truth[0]?.torsoTravelCm).toBe(0);
    expect(Math.max(...truth.map(({ torsoTravelCm }) => torsoTravelCm))).toBeGreaterThan(20);
    expect(events.repetitions).toHaveLength(scenario.people[0].performance.repetitions.length);
    expect(events.holdsInRangeSeconds).toEqual([]);
  });

  it('finds nobody where nobody was found at flexions like that', () => {
    const found = imaginedPoses(drawnCase, bending, ({ truth }) => truth.elbowFlexionDeg < 60);
    const { frames, truth } = fullRateSet(drawnCase, traceOf(drawnCase, found), plain);
    expect(frames.every(({ pose }, i) => pose !== null || (truth[i]?.elbowFlexionDeg ?? 0) > 45)).toBe(true);
    expect(frames.every(({ pose }, i) => pose === null || (truth[i]?.elbowFlexionDeg ?? 0) < 75)).toBe(true);
    expect(frames.some(({ pose }) => pose === null)).toBe(true);
    expect(frames.some(({ pose }) => pose !== null)).toBe(true);
  });

  it('keeps exchanged labels exchanged, and never half way between the sides', () => {
    const turnedCase = caseOf('band-curl-oblique', momentsOf('band-curl-oblique', 40));
    const turnedTruth = truthOf(createScenario(turnedCase.outline));
    const none: Offset = () => ({ x: 0, y: 0 });
    const { full } = imaginedPoses(turnedCase, none);
    const exchangedPoses = full.map((pose, i) => {
      const { truth } = turnedTruth(turnedCase.drawnTimesSeconds[i] ?? 0);
      return pose !== null && truth.elbowFlexionDeg > 70 ? exchangeLabels(pose) : pose;
    });
    const found = { full: exchangedPoses, fullMirrored: full, heavy: full };
    const { frames, truth } = fullRateSet(turnedCase, traceOf(turnedCase, found), plain);
    const elbow = sidedIndex('left', 'elbow');
    let turned = 0;
    frames.forEach(({ pose, timeSeconds }, i) => {
      const { joints } = turnedTruth(timeSeconds);
      const point = pose?.image[elbow] ?? { x: NaN, y: NaN };
      const [own, other] = [joints.leftElbow, joints.rightElbow].map(({ xPx, yPx }) =>
        Math.hypot(point.x - xPx, point.y - yPx),
      );
      expect(Math.min(own ?? NaN, other ?? NaN)).toBeLessThan(0.5);
      if ((other ?? NaN) < 0.5) turned += 1;
      if ((truth[i]?.elbowFlexionDeg ?? 0) > 90) expect(other).toBeLessThan(0.5);
    });
    expect(turned).toBeGreaterThan(15);
  });

  it('drops, shifts and leaves out pictures where told', () => {
    const trace = traceOf(drawnCase, imaginedPoses(drawnCase, bending));
    const whole = fullRateSet(drawnCase, trace, plain).frames;
    const fewer = fullRateSet(drawnCase, trace, { ...plain, dropShare: 0.3 }).frames;
    expect(fewer.length / whole.length).toBeCloseTo(0.7, 1);
    const gaps = fullRateSet(drawnCase, trace, { ...plain, gapsSeconds: [[2, 3]] }).frames;
    expect(whole.length - gaps.length).toBe(RATE_HZ);
    const shaken = fullRateSet(drawnCase, trace, { ...plain, jitterSeconds: 0.01 });
    const shifts = shaken.frames.map(({ timeSeconds }, i) => timeSeconds - i / RATE_HZ);
    expect(Math.max(...shifts.map(Math.abs))).toBeLessThanOrEqual(0.0101);
    expect(Math.max(...shifts)).toBeGreaterThan(0.008);
    expect(shaken.truth[40]?.timeSeconds).toBe(shaken.frames[40]?.timeSeconds);
  });

  it('is the same for the same seed, and another for another', () => {
    const trace = traceOf(drawnCase, imaginedPoses(drawnCase, bending));
    const made = (seed: number) => fullRateSet(drawnCase, trace, { ...plain, noise: 1, seed }).frames;
    expect(made(5)).toEqual(made(5));
    expect(made(5)).not.toEqual(made(6));
  });

  it('refuses a stale trace', () => {
    const trace = traceOf(drawnCase, imaginedPoses(drawnCase, bending));
    const other = { ...drawnCase, outline: { ...drawnCase.outline, seed: 1 } };
    expect(() => fullRateSet(other, trace, plain)).toThrow(/other pictures/);
    expect(() => drawnSet(other, trace, 'full')).toThrow(/other pictures/);
  });
});

describe('drawn moments of a case', () => {
  it('are what was found, untouched, with the truth of each', () => {
    const found = imaginedPoses(drawnCase, bending);
    const { frames, truth } = drawnSet(drawnCase, traceOf(drawnCase, found), 'full');
    expect(frames).toHaveLength(40);
    const elbow = LANDMARK_NAMES.indexOf('left_elbow');
    frames.forEach(({ pose }, i) => {
      expect(pose?.image[elbow]?.x).toBeCloseTo(found.full[i]?.image[elbow]?.x ?? NaN, 0);
      expect(truth[i]?.timeSeconds).toBeCloseTo(drawnCase.drawnTimesSeconds[i] ?? NaN, 4);
    });
  });
});
