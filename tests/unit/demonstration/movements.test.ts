import { describe, expect, it } from 'vitest';
import { EXERCISES } from '../../../src/core/exercises/exercise.ts';
import {
  elbowBehindTrunk,
  elbowFlexionDeg,
  shoulderFlexionDeg,
} from '../../../src/core/kinematics/geometry.ts';
import {
  demonstrationOf,
  LOOP_SECONDS,
  shareAt,
  type Movement,
} from '../../../src/ui/demonstration/movements.ts';
import type { SidePoint } from '../../../src/ui/demonstration/side-figure.ts';

/* The figure that shows an exercise, measured with the definitions that measure people. */

const SHARES = Array.from({ length: 21 }, (_, step) => step / 20);
const plane = ({ x, y }: SidePoint) => ({ forward: x, up: y });
const apart = (a: SidePoint, b: SidePoint): number => Math.hypot(a.x - b.x, a.y - b.y);
const sceneOf = (movement: Movement, share: number) => movement.sceneAt(share);
const elbowOf = (movement: Movement, share: number): number => {
  const { shoulder, elbow, grip } = sceneOf(movement, share).figure;
  return elbowFlexionDeg(plane(shoulder), plane(elbow), plane(grip));
};
const shoulderOf = (movement: Movement, share: number): number => {
  const { shoulder, elbow, hip } = sceneOf(movement, share).figure;
  return shoulderFlexionDeg(plane(shoulder), plane(hip), plane(shoulder), plane(elbow));
};
const behindOf = (movement: Movement, share: number): number => {
  const { shoulder, elbow, hip } = sceneOf(movement, share).figure;
  return elbowBehindTrunk(plane(shoulder), plane(hip), plane(shoulder), plane(elbow)) / 0.186;
};
const first = (exercise: (typeof EXERCISES)[number], pair = 0) => {
  const found = demonstrationOf(exercise, 'supinated').pairs[pair];
  if (found === undefined) throw new Error('no such pair');
  return found;
};
const all = EXERCISES.flatMap((exercise) =>
  (['supinated', 'turning'] as const).flatMap((variant) =>
    demonstrationOf(exercise, variant).pairs.flatMap(({ right, fault }) => [right, fault]),
  ),
);

describe('the figure', () => {
  it('keeps the lengths of its limbs in every movement (Drillis and Contini)', () => {
    for (const movement of all)
      for (const share of SHARES) {
        const { shoulder, elbow, grip, hip, knee, ankle } = sceneOf(movement, share).figure;
        expect(apart(shoulder, elbow)).toBeCloseTo(0.186, 6);
        expect(apart(elbow, grip)).toBeCloseTo(0.183, 6);
        expect(apart(shoulder, hip)).toBeCloseTo(0.288, 6);
        expect(apart(hip, knee)).toBeCloseTo(0.245, 6);
        expect(apart(knee, ankle)).toBeCloseTo(0.246, 6);
      }
  });

  it('has words that are read from three metres, and ends its movement within the loop', () => {
    for (const { label, tempo, sentence } of all) {
      expect(label.length).toBeLessThanOrEqual(7);
      expect(sentence).toMatch(/\.$/);
      expect(shareAt(tempo, 0)).toBe(0);
      expect(shareAt(tempo, LOOP_SECONDS - 0.5)).toBeCloseTo(0, 9);
    }
  });
});

describe('an exercise beside its usual fault', () => {
  it('holds at a right angle and the bar in its support; in the fault the hand rises and takes the bar along', () => {
    const { right, fault } = first('hold');
    for (const share of SHARES) {
      expect(elbowOf(right, share)).toBeCloseTo(90, 6);
      expect(sceneOf(right, share).bar?.at).toEqual(sceneOf(right, share).bar?.support);
    }
    const { bar, figure } = sceneOf(fault, 1);
    expect(bar?.at).toEqual(figure.grip);
    expect((bar?.at.y ?? 0) - (bar?.support.y ?? 0)).toBeGreaterThan(0.02);
  });

  it('curls with the hands on the bar and the upper arm at its angle; a row takes the elbow behind the trunk', () => {
    const { right, fault } = first('body-curl');
    for (const movement of [right, fault])
      for (const share of SHARES) {
        const { figure, bar } = sceneOf(movement, share);
        expect(apart(figure.grip, bar?.at ?? figure.hip)).toBeLessThan(1e-9);
      }
    expect(elbowOf(right, 1) - elbowOf(right, 0)).toBeGreaterThan(80);
    expect(elbowOf(fault, 1) - elbowOf(fault, 0)).toBeGreaterThan(80);
    expect(Math.abs(shoulderOf(right, 1) - shoulderOf(right, 0))).toBeLessThan(5);
    expect(shoulderOf(fault, 0) - shoulderOf(fault, 1)).toBeGreaterThan(40);
    for (const share of SHARES) expect(behindOf(right, share)).toBeLessThan(-0.5);
    expect(behindOf(fault, 1)).toBeGreaterThan(0);
  });

  it('turns the palm of a band curl up, and down in the fault; lowers slowly, and drops in the other', () => {
    const { right, fault } = first('band-curl');
    expect(sceneOf(right, 0.7).palm?.y).toBeGreaterThan(0.5);
    expect(sceneOf(fault, 0.7).palm?.y).toBeLessThan(-0.5);
    const slow = first('band-curl', 1);
    expect(slow.right.tempo.lowerSeconds).toBeGreaterThanOrEqual(3);
    expect(slow.fault.tempo.lowerSeconds).toBeLessThan(1);
  });

  it('keeps the upper arm still in a free curl, and swings body and arm in the fault', () => {
    const { right, fault } = first('free-curl');
    expect(Math.abs(shoulderOf(right, 1) - shoulderOf(right, 0))).toBeLessThan(1e-6);
    expect(shoulderOf(fault, 1) - shoulderOf(fault, 0)).toBeGreaterThan(25);
    const moved = apart(sceneOf(fault, 0).figure.shoulder, sceneOf(fault, 1).figure.shoulder);
    expect(moved).toBeGreaterThan(0.05);
  });
});
