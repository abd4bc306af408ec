import { describe, expect, it } from 'vitest';
import { createBody, type Body } from '../../../demo-clips/generator/body.ts';
import {
  createBodyCurl,
  createRow,
  CURL_BAR,
  ROW_BAR,
} from '../../../demo-clips/generator/exercises/bar-pull.ts';
import { barFor, createMixedPull } from '../../../demo-clips/generator/exercises/mixed-pull.ts';
import { pullMoments } from '../../../demo-clips/generator/exercises/pull-work.ts';
import type { Performance } from '../../../demo-clips/generator/performance.ts';
import { createRandom } from '../../../demo-clips/generator/seeded-random.ts';
import { buildSkeleton, type Joints } from '../../../demo-clips/generator/skeleton.ts';
import { mix, toRadians } from '../../../demo-clips/generator/vector.ts';
import { PLAIN_LOOKS } from '../../helpers/plain-looks.ts';

const body = createBody({ statureM: 1.76, bodyMassIndex: 24, looks: PLAIN_LOOKS }, createRandom(3));
const plan = { count: 3, lowDeg: 25, highDeg: 104, leadInS: 1, leadOutS: 1, lowerS: [2, 3] } as const;
const mixed = (...mixtures: readonly number[]): Performance =>
  createMixedPull(body, { place: barFor(mixtures[0] ?? 0), plan, mixtures, gripOutM: 0 }, createRandom(11));
const jointsAt = (performance: Performance, timeS: number, owner: Body = body): Joints => {
  const posture = performance.postureAt(timeS);
  if (posture === null) throw new Error('The person must be there.');
  return buildSkeleton(owner, posture).joints;
};
const shares = (performance: Performance): number[] =>
  performance.repetitions.map(({ shoulderWorkShare }) => shoulderWorkShare ?? NaN);

describe('a pull between curl and row', () => {
  it.each([
    ['curl', 0, createBodyCurl(body, CURL_BAR, { ...plan, shoulderDominant: false }, createRandom(11))],
    ['row', 1, createRow(body, ROW_BAR, { ...plan, shoulderDominant: true }, createRandom(11))],
  ] as const)('is the %s at mixture %i', (_name, mixture, pure) => {
    const performance = mixed(mixture, mixture, mixture);
    for (let timeS = 0; timeS < pure.durationS; timeS += 0.4) {
      const [own, other] = [jointsAt(performance, timeS), jointsAt(pure, timeS)];
      for (const joint of ['rightElbow', 'leftWrist', 'midHip', 'midShoulder', 'rightKnee'] as const)
        own[joint].forEach((metres, axis) => {
          expect(metres).toBeCloseTo(other[joint][axis] ?? NaN, 9);
        });
    }
  });

  it('keeps the hands on the bar also when the mixture changes between repetitions', () => {
    const performance = mixed(0.4, 0.7, 0.2);
    const centre = performance.equipment.bar?.centre ?? [NaN, NaN, NaN];
    let before = jointsAt(performance, 0);
    for (let timeS = 0.05; timeS < performance.durationS; timeS += 0.05) {
      const joints = jointsAt(performance, timeS);
      expect(joints.rightGrip[0]).toBeCloseTo(centre[0], 9);
      expect(joints.rightGrip[1]).toBeCloseTo(centre[1], 9);
      // The trunk comes over at most 0.9 m in a second and a half of lifting; a jump would show here.
      const moved = Math.hypot(...joints.midHip.map((metres, axis) => metres - (before.midHip[axis] ?? NaN)));
      expect(moved / 0.05).toBeLessThan(1.2);
      before = joints;
    }
  });

  it('gives the shoulder more of the work the more it is a row', () => {
    const all = Array.from({ length: 11 }, (_, tenth) => shares(mixed(tenth / 10))[0] ?? NaN);
    all.slice(1).forEach((share, index) => {
      expect(share).toBeGreaterThan((all[index] ?? NaN) - 1e-9);
    });
    expect(all[0]).toBeLessThan(0.1);
    expect(all[10]).toBeGreaterThan(0.75);
  });

  it('is shoulder-dominant where the shoulder does more than half of the work', () => {
    const repetitions = [0, 0.2, 0.4, 0.6, 0.8, 1].flatMap((mixture) => mixed(mixture).repetitions);
    for (const { shoulderDominant, shoulderWorkShare } of repetitions)
      expect(shoulderDominant).toBe((shoulderWorkShare ?? NaN) > 0.5);
    expect(new Set(repetitions.map(({ shoulderDominant }) => shoulderDominant))).toEqual(
      new Set([true, false]),
    );
  });
});

describe('the moments of a pull', () => {
  it('do the work that raises the body: in a row only elbow and shoulder move', () => {
    const performance = mixed(1);
    const potentialJ = (joints: Joints): number => {
      // Winter 2009, table 4.1; the feet stay on the floor.
      const at = (a: keyof Joints, b: keyof Joints, share: number) => mix(joints[a], joints[b], share)[1];
      const metres =
        0.578 * at('midHip', 'midShoulder', 0.66) +
        2 * 0.028 * at('rightShoulder', 'rightElbow', 0.436) +
        2 * 0.016 * at('rightElbow', 'rightWrist', 0.43) +
        2 * 0.006 * joints.rightGrip[1] +
        2 * 0.1 * at('rightHip', 'rightKnee', 0.433) +
        2 * 0.0465 * at('rightKnee', 'rightAnkle', 0.433);
      return metres * body.massKg * 9.81;
    };
    const first = performance.repetitions[0];
    if (first === undefined) throw new Error('A set needs repetitions.');
    const dS = 0.002;
    for (let timeS = first.startS + 0.3; timeS < first.endS - first.lowerS - 0.5; timeS += 0.1) {
      const [before, after] = [performance.postureAt(timeS - dS), performance.postureAt(timeS + dS)];
      if (before === null || after === null) throw new Error('The person must be there.');
      const moments = pullMoments(body, jointsAt(performance, timeS));
      const turned = (of: 'elbowFlexionDeg' | 'shoulderFlexionDeg'): number =>
        toRadians(after.arms.right[of] - before.arms.right[of]);
      const workJ =
        moments.elbowFlexorsNm * turned('elbowFlexionDeg') -
        moments.shoulderExtensorsNm * turned('shoulderFlexionDeg');
      const risenJ =
        potentialJ(jointsAt(performance, timeS + dS)) - potentialJ(jointsAt(performance, timeS - dS));
      expect(Math.abs(risenJ)).toBeGreaterThan(0.05);
      expect(workJ / risenJ).toBeCloseTo(1, 2);
    }
  });
});
