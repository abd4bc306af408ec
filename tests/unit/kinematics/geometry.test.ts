import { describe, expect, it } from 'vitest';
import { SEGMENT_OVER_STATURE } from '../../../src/core/kinematics/anthropometry.ts';
import {
  elbowBehindTrunk,
  elbowFlexionDeg,
  forearmFromHorizontalDeg,
  hipAngleDeg,
  shoulderFlexionDeg,
  trunkInclinationDeg,
} from '../../../src/core/kinematics/geometry.ts';

const at = (forward: number, up: number) => ({ forward, up });
/** A point at a distance from another, at an angle from straight down towards the front. */
const hung = (from: { forward: number; up: number }, length: number, deg: number) =>
  at(
    from.forward + length * Math.sin((deg * Math.PI) / 180),
    from.up - length * Math.cos((deg * Math.PI) / 180),
  );
const shoulder = at(0, 1.55);
const hip = at(0, 0);

describe('sign conventions', () => {
  // ISB, Wu et al., J Biomech 2005;38:981-992, 3.4.1, and the clinical neutral-zero method: 0 is the straight elbow.
  it('counts elbow flexion from the straight arm, growing as it bends', () => {
    const elbow = hung(shoulder, 1, 20);
    expect(elbowFlexionDeg(shoulder, elbow, hung(elbow, 0.8, 20))).toBeCloseTo(0, 9);
    expect(elbowFlexionDeg(shoulder, elbow, hung(elbow, 0.8, 110))).toBeCloseTo(90, 9);
    expect(elbowFlexionDeg(shoulder, elbow, hung(elbow, 0.8, 165))).toBeCloseTo(145, 9);
  });

  it('gives the included angle 180 minus flexion, as the older habit of goniometry states it', () => {
    const elbow = hung(shoulder, 1, 0);
    const wrist = hung(elbow, 0.8, 50);
    const included =
      (Math.acos(
        ((shoulder.forward - elbow.forward) * (wrist.forward - elbow.forward) +
          (shoulder.up - elbow.up) * (wrist.up - elbow.up)) /
          0.8,
      ) *
        180) /
      Math.PI;
    expect(elbowFlexionDeg(shoulder, elbow, wrist)).toBeCloseTo(180 - included, 9);
  });

  it('counts shoulder flexion positive in front of the trunk, negative behind it, and past overhead beyond 180', () => {
    for (const deg of [-40, 0, 30, 90, 170, 190]) {
      expect(shoulderFlexionDeg(shoulder, hip, shoulder, hung(shoulder, 1, deg))).toBeCloseTo(deg, 9);
    }
  });

  it('takes shoulder flexion against the trunk, however the trunk lies', () => {
    const lying = at(-1.55, 0);
    expect(shoulderFlexionDeg(lying, hip, lying, at(-1.55, 1))).toBeCloseTo(90, 9);
    expect(shoulderFlexionDeg(lying, hip, lying, at(-0.55, 0))).toBeCloseTo(0, 9);
  });

  it('takes the inclination of the trunk from the vertical without a sign', () => {
    expect(trunkInclinationDeg(at(0, 1), at(0, 0))).toBeCloseTo(0, 9);
    expect(trunkInclinationDeg(at(-1, 0), at(0, 0))).toBeCloseTo(90, 9);
    expect(trunkInclinationDeg(at(1, 1), at(0, 0))).toBeCloseTo(45, 9);
    expect(trunkInclinationDeg(at(0, -1), at(0, 0))).toBeCloseTo(180, 9);
  });

  it('counts the forearm from the horizontal positive with the hand above the elbow, whichever way it points', () => {
    expect(forearmFromHorizontalDeg(at(0, 0), at(1, 0))).toBeCloseTo(0, 9);
    expect(forearmFromHorizontalDeg(at(0, 0), at(1, 1))).toBeCloseTo(45, 9);
    expect(forearmFromHorizontalDeg(at(0, 0), at(-1, -1))).toBeCloseTo(-45, 9);
  });

  it('gives the hip 180 in line and less when it bends', () => {
    expect(hipAngleDeg(shoulder, hip, hip, at(0, -1.3))).toBeCloseTo(180, 9);
    expect(hipAngleDeg(shoulder, hip, hip, at(1.3, 0))).toBeCloseTo(90, 9);
  });

  it('counts the elbow behind the trunk positive, in front of it negative, and the same lying down', () => {
    expect(elbowBehindTrunk(shoulder, hip, shoulder, at(-0.4, 0.7))).toBeCloseTo(0.4, 9);
    expect(elbowBehindTrunk(shoulder, hip, shoulder, at(0.4, 0.7))).toBeCloseTo(-0.4, 9);
    const lying = at(-1.55, 0);
    expect(elbowBehindTrunk(lying, hip, lying, at(-1, -0.4))).toBeCloseTo(0.4, 9);
  });

  it('gives numbers, never NaN, when points fall together', () => {
    const values = [
      elbowFlexionDeg(shoulder, shoulder, shoulder),
      shoulderFlexionDeg(shoulder, shoulder, shoulder, shoulder),
      elbowBehindTrunk(shoulder, shoulder, shoulder, hip),
      trunkInclinationDeg(hip, hip),
    ];
    expect(values.every(Number.isFinite)).toBe(true);
  });
});

describe('segment fractions', () => {
  // Drillis & Contini 1966, as drawn in Winter, Fig. 4.1. The forearm's 0.146 is from memory of the same figure.
  it('are those of the table', () => {
    expect(SEGMENT_OVER_STATURE).toEqual({
      trunk: 0.288,
      thigh: 0.245,
      shank: 0.246,
      upperArm: 0.186,
      forearm: 0.146,
    });
  });

  // Heights above the floor from the same figure, from memory: shoulder 0.818, hip 0.530, knee 0.285, ankle 0.039.
  it('agree with the joint heights of the same figure', () => {
    expect(0.818 - 0.53).toBeCloseTo(SEGMENT_OVER_STATURE.trunk, 3);
    expect(0.53 - 0.285).toBeCloseTo(SEGMENT_OVER_STATURE.thigh, 3);
    expect(0.285 - 0.039).toBeCloseTo(SEGMENT_OVER_STATURE.shank, 3);
  });
});
