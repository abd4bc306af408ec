import { describe, expect, test } from 'vitest';
import { forearmWeightMomentNm } from '../../../src/core/loads/arm-geometry.ts';
import { bicepsMoment, bicepsTendonForce } from '../../../src/core/loads/demand.ts';
import { flexorCapacity, withinCapacityTable } from '../../../src/core/loads/flexor-capacity.ts';
import { figureWithin, isKnown } from '../../../src/core/loads/load-figure.ts';
import { weightMoment } from '../../../src/core/loads/loaded-exercise.ts';
import { modelBicepsArmM, pigeonArmM } from '../../../src/core/loads/moment-arms.ts';

const PERSON = { statureCm: 175, bodyMassKg: 75 };
const ANGLES = Array.from({ length: 131 }, (_, deg) => deg);
const peakDeg = (at: (deg: number) => number): number =>
  ANGLES.reduce((best, deg) => (at(deg) > at(best) ? deg : best), 0);

/** Forearm and hand: 0.022 of body mass, centre at 0.682 of 0.146 of stature; Winter, table 4.1 and figure 4.1. */
describe('the weight of forearm and hand', () => {
  test('asks 2.820 N m of the elbow of a person of 75 kg and 1.75 m with the forearm level', () => {
    expect(forearmWeightMomentNm(PERSON, 90)).toBeCloseTo(2.82, 3);
    expect(forearmWeightMomentNm(PERSON, 0)).toBe(0);
    expect(forearmWeightMomentNm({ ...PERSON, bodyMassKg: null }, 90)).toBe(0);
  });
});

/** Weight times lever of the hanging arm: 5 kg at 0.32 m, worked by hand. */
describe('a dumbbell of 5 kg at 0.32 m', () => {
  // A stature of which 0.183 is 0.32 m; without a body mass the forearm weighs nothing.
  const person = { statureCm: 32 / 0.183, bodyMassKg: null };
  test.each([
    [30, 7.845],
    [60, 13.588],
    [90, 15.691],
    [120, 13.588],
  ])('asks at %i deg for %f N m', (flexionDeg, momentNm) => {
    const moment = weightMoment(5, person, flexionDeg);
    expect(isKnown(moment) && moment.value).toBeCloseTo(momentNm, 3);
  });
});

/**
 * Holzbaur, Murray & Delp 2005, output files of the model (BMClab/BMC, f_elbowflexors.mot, r_elbowflexors.mot): force times
 * arm of both biceps heads and brachialis.
 */
describe('the flexors’ strength over the angle', () => {
  test.each([
    [0, 24.63, 0.37],
    [30.2, 40.82, 0.612],
    [60.4, 58.89, 0.884],
    [85.4, 66.65, 1],
    [105.1, 61.17, 0.918],
    [130, 41.84, 0.628],
  ])('at %f deg is %f N m, %f of the peak', (deg, momentNm, share) => {
    expect(flexorCapacity(deg).momentNm).toBeCloseTo(momentNm, 1);
    expect(flexorCapacity(deg, 1).momentNm).toBeCloseTo(share, 3);
  });

  test('lies in the bands of older measurements, from memory: 30, 60, 120 deg', () => {
    // Williams & Stutzman 1959, Singh & Karpovich 1968, Kulig 1984, Knapik 1983.
    for (const [deg, least, most] of [
      [30, 0.55, 0.75],
      [60, 0.8, 0.95],
      [90, 0.95, 1],
      [120, 0.7, 0.9],
    ] as const) {
      expect(flexorCapacity(deg, 1).momentNm).toBeGreaterThan(least);
      expect(flexorCapacity(deg, 1).momentNm).toBeLessThan(most);
    }
    expect(peakDeg((deg) => flexorCapacity(deg).momentNm)).toBeGreaterThanOrEqual(80);
    expect(peakDeg((deg) => flexorCapacity(deg).momentNm)).toBeLessThanOrEqual(100);
  });

  test('is known from 0 to 130 deg only', () => {
    expect([-1, 0, 130, 131].map(withinCapacityTable)).toEqual([false, true, true, false]);
  });

  test.each([
    [0, 0.4],
    [74.8, 0.7],
    [130, 0.62],
  ])('the biceps’ share of it at %f deg is about %f', (deg, share) => {
    expect(Math.abs(flexorCapacity(deg).bicepsShare - share)).toBeLessThan(0.012);
  });
});

/** Pigeon, Yahia & Feldman 1996 as printed at biomed.bas.bg; the second curve: r_elbowflexors.mot of BMClab/BMC. */
describe('moment arms', () => {
  test.each([
    ['biceps', [1.963, 2.072, 2.677, 3.451, 4.193, 4.71, 4.86, 4.592, 3.992]],
    ['brachialis', [1.554, 1.514, 1.676, 2.002, 2.412, 2.783, 2.992, 2.958, 2.679]],
    ['brachioradialis', [2.015, 2.47, 3.073, 3.815, 4.626, 5.44, 6.199, 6.844, 7.315]],
  ] as const)('of %s follow the published polynomial', (flexor, armsCm) => {
    [0, 30, 45, 60, 75, 90, 105, 120, 135].forEach((deg, index) =>
      expect(pigeonArmM(flexor, deg) * 100).toBeCloseTo(armsCm[index] ?? NaN, 3),
    );
  });

  test('of the biceps peak where the source says: 4.864 cm at 102.9 deg, the second curve 4.939 at 99.8', () => {
    expect(peakDeg((deg) => pigeonArmM('biceps', deg))).toBe(103);
    expect(pigeonArmM('biceps', 102.9) * 100).toBeCloseTo(4.864, 3);
    expect(modelBicepsArmM(99.8)).toBe(0.04939);
  });

  test('of two sources agree within a fifth from 60 deg on and at the peak far better', () => {
    for (let deg = 60; deg <= 130; deg += 5) {
      const ratio = pigeonArmM('biceps', deg) / modelBicepsArmM(deg);
      expect(Math.abs(ratio - 1)).toBeLessThan(0.2);
    }
    expect(Math.abs(pigeonArmM('biceps', 100) / modelBicepsArmM(100) - 1)).toBeLessThan(0.03);
  });
});

describe('what of a moment the biceps and its tendon may have', () => {
  const moment = figureWithin(20, 0.1, 'weight-flexion-moment');

  test('is the strengths’ share for the value, all of it for the most', () => {
    const part = bicepsMoment(74.8, moment);
    expect(part.value).toBeCloseTo(20 * (46.22 / 65.25), 2);
    expect(part.most).toBeCloseTo(22, 6);
    expect(part.least).toBeCloseTo((18 * (46.22 / 65.25)) / 2, 2);
  });

  test('never comes as a force without a span of more than a factor of two', () => {
    for (const deg of [0, 30, 60, 90, 120, 130]) {
      const force = bicepsTendonForce(deg, moment);
      if (!isKnown(force)) throw new Error(force.notKnown);
      expect(force.most / force.least).toBeGreaterThan(2);
      expect(force.least).toBeLessThan(force.value);
      expect(force.most).toBeGreaterThan(force.value);
    }
    expect(bicepsTendonForce(140, moment)).toEqual({ notKnown: 'outside-capacity-table' });
  });
});
