import { describe, expect, it } from 'vitest';
import { createBody } from '../../../demo-clips/generator/body.ts';
import { barFor, createMixedPull } from '../../../demo-clips/generator/exercises/mixed-pull.ts';
import { pullMoments as trueMoments } from '../../../demo-clips/generator/exercises/pull-work.ts';
import { createRandom } from '../../../demo-clips/generator/seeded-random.ts';
import { buildSkeleton, type Joints } from '../../../demo-clips/generator/skeleton.ts';
import { pullMoments } from '../../../src/core/exercises/pull-moments.ts';
import { shoulderWorkShare } from '../../../src/core/exercises/shoulder-work.ts';
import type { KinematicFrame, PlaneBody, PlanePoint } from '../../../src/core/kinematics/kinematic-frame.ts';
import { estimate } from '../../../src/core/kinematics/measured.ts';
import { traceSeries } from '../../helpers/kinematic-traces.ts';
import { PLAIN_LOOKS } from '../../helpers/plain-looks.ts';

const body = createBody({ statureM: 1.72, bodyMassIndex: 25, looks: PLAIN_LOOKS }, createRandom(5));
const plan = { count: 2, lowDeg: 22, highDeg: 106, leadInS: 1, leadOutS: 1, lowerS: [2, 3] } as const;
const UPPER_ARM_M = body.lengths.upperArm;

/** The figure's joints as measuring has them: forward and up in upper-arm lengths. */
function planeBody(joints: Joints): PlaneBody {
  const at = (joint: keyof Joints): PlanePoint => ({
    forward: joints[joint][0] / UPPER_ARM_M,
    up: joints[joint][1] / UPPER_ARM_M,
  });
  return {
    shoulder: at('rightShoulder'),
    elbow: at('rightElbow'),
    wrist: at('rightWrist'),
    hand: at('rightGrip'),
    hip: at('rightHip'),
    knee: at('rightKnee'),
    ankle: at('rightAnkle'),
    midShoulder: at('midShoulder'),
    midHip: at('midHip'),
  };
}

/** A frame whose other figures play no part here. */
function template(): KinematicFrame {
  const frame = traceSeries({ seconds: 0.2, posture: () => ({ elbowDeg: 30 }) }).frames[0];
  if (frame === undefined) throw new Error('A trace has frames.');
  return frame;
}

/** A lift of a mixed pull as frames without error; halfWidthDeg is that of the angles. */
function lift(mixture: number, halfWidthDeg = 8) {
  const style = { place: barFor(mixture), plan, mixtures: [mixture, mixture], gripOutM: 0 };
  const performance = createMixedPull(body, style, createRandom(2));
  const [first] = performance.repetitions;
  if (first === undefined) throw new Error('A pull has repetitions.');
  const lastS = first.endS - first.lowerS;
  const frames: KinematicFrame[] = [];
  for (let timeSeconds = first.startS; timeSeconds <= lastS; timeSeconds += 1 / 30) {
    const posture = performance.postureAt(timeSeconds);
    if (posture === null) throw new Error('The person must be there.');
    const { elbowFlexionDeg, shoulderFlexionDeg } = posture.arms.right;
    frames.push({
      ...template(),
      timeSeconds,
      elbowFlexionDeg: estimate(elbowFlexionDeg, halfWidthDeg),
      shoulderFlexionDeg: estimate(shoulderFlexionDeg, halfWidthDeg),
      body: planeBody(buildSkeleton(body, posture).joints),
    });
  }
  return { frames, truth: first.shoulderWorkShare ?? NaN, performance };
}

describe('the moments of a pull', () => {
  it('are those of the generator’s own statics, per body weight and upper arm', () => {
    const { performance } = lift(0.85);
    for (const timeS of [1.2, 1.8, 2.4]) {
      const posture = performance.postureAt(timeS);
      if (posture === null) throw new Error('The person must be there.');
      const { joints } = buildSkeleton(body, posture);
      const truth = trueMoments(body, joints);
      const unitNm = body.massKg * 9.81 * UPPER_ARM_M;
      const own = pullMoments(planeBody(joints));
      expect(own?.elbow).toBeCloseTo(truth.elbowFlexorsNm / unitNm, 2);
      expect(own?.shoulder).toBeCloseTo(truth.shoulderExtensorsNm / unitNm, 2);
    }
  });

  it('ask more of the shoulder when the force is more upright', () => {
    const frame = lift(0.85).frames[20];
    if (frame === undefined) throw new Error('The lift has frames.');
    const [least, upright] = [pullMoments(frame.body), pullMoments(frame.body, 20)];
    expect(upright?.shoulder).toBeGreaterThan(least?.shoulder ?? NaN);
    expect(upright?.elbow).toBeLessThan(least?.elbow ?? NaN);
  });

  it('are none without the feet', () => {
    const frame = lift(0.85).frames[20];
    if (frame === undefined) throw new Error('The lift has frames.');
    expect(pullMoments({ ...frame.body, ankle: null })).toBeNull();
  });
});

describe('the shoulder’s share of the work', () => {
  it.each([0, 0.5, 0.8, 0.9, 1])('is the true one of a pull of mixture %d, seen without error', (mixture) => {
    const { frames, truth } = lift(mixture);
    const share = shoulderWorkShare(frames);
    if (!('value' in share)) throw new Error(share.notMeasured);
    expect(Math.abs(share.value - truth)).toBeLessThan(0.02);
    expect(share.low).toBeLessThanOrEqual(share.value);
    expect(share.high).toBeGreaterThanOrEqual(share.value);
  });

  it('is the less sure the less the shoulder’s angle is', () => {
    const widths = [8, 30, 60].map((halfWidthDeg) => {
      const share = shoulderWorkShare(lift(0.85, halfWidthDeg).frames);
      return 'value' in share ? share.high - share.low : NaN;
    });
    expect(widths[0]).toBeLessThan(widths[1] ?? NaN);
    expect(widths[1]).toBeLessThan(widths[2] ?? NaN);
  });

  it('says what is missing', () => {
    const { frames } = lift(0.85);
    const without = (change: Partial<PlaneBody>) =>
      shoulderWorkShare(frames.map((frame) => ({ ...frame, body: { ...frame.body, ...change } })));
    expect(without({ ankle: null })).toEqual({ notMeasured: 'legs-not-seen' });
    expect(without({ hand: null, wrist: null })).toEqual({ notMeasured: 'hand-not-seen' });
    expect(without({ midHip: null })).toEqual({ notMeasured: 'trunk-not-seen' });
    expect(shoulderWorkShare([])).toEqual({ notMeasured: 'gap' });
  });

  it('does not apply to a body that is let down', () => {
    expect(shoulderWorkShare(lift(0).frames.toReversed())).toEqual({ notMeasured: 'not-applicable' });
  });
});
