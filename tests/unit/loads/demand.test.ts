import { describe, expect, test } from 'vitest';
import { demandCurve, POPULATION_CAPACITY } from '../../../src/core/loads/demand.ts';
import type { Band } from '../../../src/core/loads/equipment.ts';
import { isKnown } from '../../../src/core/loads/load-figure.ts';
import type { LoadedExercise } from '../../../src/core/loads/loaded-exercise.ts';
import {
  heaviestWeightBelow,
  searchBands,
  shortened,
  type SearchWish,
} from '../../../src/core/loads/set-up-search.ts';
import { setDose } from '../../../src/core/loads/set-dose.ts';
import { SAMPLE_BAND } from '../../helpers/sample-equipment.ts';

const PERSON = { statureCm: 175, bodyMassKg: 75 };
const RANGE = { startFlexionDeg: 10, topFlexionDeg: 130 };
const BAND: Band = {
  ...SAMPLE_BAND,
  anchorM: { forward: 0, outward: 0, up: -1 },
  leavesHand: 'middle',
  fromForearmAxisM: 0,
};
const exercise = (equipment: LoadedExercise['equipment'], range = RANGE): LoadedExercise => ({
  equipment,
  person: PERSON,
  variant: null,
  range,
});

describe('demand over strength', () => {
  test('of a band anchored on the floor is hardest bent, of a dumbbell not where the arm is straight', () => {
    // Its peak lies past that of the flexors (4.814 N m at 105.4 deg against 80 to 100 deg).
    expect(demandCurve(exercise(BAND)).hardest).toBe('bent');
    const dumbbell = demandCurve(exercise({ kind: 'dumbbell', massKg: 5 }));
    expect(dumbbell.hardest).not.toBe('straight');
    // Where the upper arm hangs, the lever at the straight end is least: 5 kg ask least there.
    expect(dumbbell.points[0]?.momentNm.value).toBe(
      Math.min(...dumbbell.points.map((p) => p.momentNm.value)),
    );
  });

  test('is the moment over the published strength at the angle', () => {
    const { points } = demandCurve(exercise({ kind: 'dumbbell', massKg: 5 }), POPULATION_CAPACITY, [85.4]);
    // (5 kg x 0.32025 m + forearm) over 66.65 N m, by hand.
    const sine = Math.sin((85.4 * Math.PI) / 180);
    expect(points[0]?.overCapacity.value).toBeCloseTo(((5 * 9.80665 * 0.32025 + 2.82) * sine) / 66.65, 4);
  });

  test('spans the strengths from the mean of women to that of men, its evenness does not depend on strength', () => {
    const one = demandCurve(exercise(BAND));
    const weaker = demandCurve(exercise(BAND), { peakNm: 33, leastNm: 33, mostNm: 33 });
    expect(weaker.evenness).toBeCloseTo(one.evenness ?? NaN, 9);
    const { least, most, value } = one.points[12]?.overCapacity ?? { least: 0, most: 0, value: 0 };
    expect(most / value).toBeGreaterThan(2);
    expect(least).toBeLessThan(value);
  });

  test('leaves out angles whose strength is not published, and says so', () => {
    const wide = demandCurve(
      exercise({ kind: 'dumbbell', massKg: 5 }, { startFlexionDeg: -10, topFlexionDeg: 150 }),
    );
    expect(wide.problems).toEqual(['outside-capacity-table']);
    expect(wide.points.every(({ flexionDeg }) => flexionDeg >= 0 && flexionDeg <= 130)).toBe(true);
  });
});

describe('the search', () => {
  const wish: SearchWish = {
    person: PERSON,
    variant: null,
    range: RANGE,
    capacity: POPULATION_CAPACITY,
    belowShare: 0.25,
  };

  test('finds set-ups that are more even than the described one and stay below the share at every angle', () => {
    const { best, asDescribed, tried, leftOut } = searchBands([BAND], wish);
    expect(best.length).toBeGreaterThan(0);
    const evenness = best.map((setUp) => setUp.evenness);
    expect([...evenness].sort((a, b) => a - b)).toEqual(evenness);
    expect(evenness[0]).toBeLessThan(asDescribed[0] ?? 0);
    for (const { curve } of best) {
      expect(curve.problems).toEqual([]);
      const { peakNm } = wish.capacity;
      for (const { momentNm, capacityNm } of curve.points) {
        expect(momentNm.value / capacityNm).toBeLessThan(0.25);
        expect(peakNm).toBe(66.65);
      }
    }
    expect(Object.values(leftOut).reduce((sum, count) => sum + count, 0)).toBeLessThanOrEqual(tried);
  });

  test('takes the band that fits among several, and none where all are too strong', () => {
    const strong = { ...BAND, readings: BAND.readings.map((r) => ({ ...r, forceN: 20 * r.forceN })) };
    expect(searchBands([strong, BAND], wish).best.every(({ bandIndex }) => bandIndex === 1)).toBe(true);
    const none = searchBands([strong], wish);
    expect(none.best).toEqual([]);
    expect(none.leftOut.reachesShare).toBeGreaterThan(0);
  });

  test('takes a band gripped shorter for one that pulls the same at the same stretch', () => {
    const half = shortened(BAND, 0.5);
    expect(half.restLengthM).toBe(0.3);
    expect(half.readings.map(({ forceN }) => forceN)).toEqual(BAND.readings.map(({ forceN }) => forceN));
    expect((half.readings[0]?.lengthM ?? 0) / half.restLengthM).toBeCloseTo(1.5, 9);
  });

  test('finds the dumbbell that reaches the share at one angle and stays below it at all others', () => {
    const found = heaviestWeightBelow(wish);
    if (!isKnown(found)) throw new Error(found.notKnown);
    const { points, peak } = demandCurve(exercise({ kind: 'dumbbell', massKg: found.massKg.value }));
    expect(peak?.flexionDeg).toBe(found.weakestDeg);
    expect(peak?.overCapacity.value).toBeCloseTo(0.25, 6);
    expect(points.filter(({ overCapacity }) => overCapacity.value > 0.25 + 1e-9)).toEqual([]);
    expect(found.massKg.least).toBeLessThan(found.massKg.value);
  });
});

describe('the dose of a set', () => {
  const dumbbell = exercise({ kind: 'dumbbell', massKg: 5 });
  const still = (seconds: number, deg: number) => {
    const timesSeconds = Array.from({ length: seconds * 10 + 1 }, (_, tenth) => tenth / 10);
    return { timesSeconds, flexionDeg: timesSeconds.map(() => deg) };
  };

  test('of 10 s at a right angle is ten times the moment: (15.70 + 2.82) N m', () => {
    const { timeUnderTensionSeconds, elbowImpulseNms } = setDose(
      still(12, 90),
      [{ startSeconds: 1, endSeconds: 11 }],
      dumbbell,
    );
    expect(timeUnderTensionSeconds.value).toBeCloseTo(10, 9);
    // The table of moments is linear between angles 4 deg apart.
    expect((elbowImpulseNms?.value ?? NaN) / (10 * (5 * 9.80665 * 0.32025 + 2.82))).toBeCloseTo(1, 2);
  });

  test('of a smooth repetition is the integral of its moment, by Simpson’s rule', () => {
    const timesSeconds = Array.from({ length: 301 }, (_, i) => i / 50);
    const flexionAt = (t: number): number => 70 - 60 * Math.cos((2 * Math.PI * t) / 6);
    const series = { timesSeconds, flexionDeg: timesSeconds.map(flexionAt) };
    const { elbowImpulseNms } = setDose(series, [{ startSeconds: 0, endSeconds: 6 }], dumbbell);
    const momentNm = (t: number): number =>
      (5 * 9.80665 * 0.32025 + 2.82) * Math.sin((flexionAt(t) * Math.PI) / 180);
    const n = 600;
    const h = 6 / n;
    const simpson = Array.from(
      { length: n + 1 },
      (_, i) => (i === 0 || i === n ? 1 : i % 2 ? 4 : 2) * momentNm(i * h),
    );
    const integral = (simpson.reduce((sum, value) => sum + value, 0) * h) / 3;
    expect((elbowImpulseNms?.value ?? NaN) / integral).toBeCloseTo(1, 2);
  });

  test('gives unseen time the mean for the value, nothing for the least, the largest for the most', () => {
    const series = still(10, 90);
    const gap = { ...series, flexionDeg: series.flexionDeg.map((deg, i) => (i > 40 && i < 60 ? NaN : deg)) };
    const spans = [{ startSeconds: 0, endSeconds: 10 }];
    const [whole, part] = [setDose(series, spans, dumbbell), setDose(gap, spans, dumbbell)];
    expect(part.timeUnderTensionSeconds).toMatchObject({ value: 10, most: 10 });
    expect(part.timeUnderTensionSeconds.least).toBeCloseTo(8, 6);
    expect(part.elbowImpulseNms?.value).toBeCloseTo(whole.elbowImpulseNms?.value ?? NaN, 6);
    expect(part.elbowImpulseNms?.least).toBeCloseTo(0.8 * (whole.elbowImpulseNms?.least ?? NaN), 6);
    expect(part.elbowImpulseNms?.most).toBeCloseTo(whole.elbowImpulseNms?.most ?? NaN, 6);
  });

  test('of a hold on a bar may have been anything from nothing to the ceiling', () => {
    const bar = exercise(
      {
        kind: 'bar',
        massKg: 20,
        lengthM: 2.2,
        supportsM: [0, 2.2],
        heldDown: [false, false],
        gripsM: [0, 2.2],
        supportShape: 'open-above',
      },
      { startFlexionDeg: 90, topFlexionDeg: 90 },
    );
    const { elbowImpulseNms } = setDose(still(30, 90), [{ startSeconds: 0, endSeconds: 30 }], bar);
    expect(elbowImpulseNms?.least).toBe(0);
    expect((elbowImpulseNms?.value ?? NaN) / (30 * (98.0665 * 0.32025 + 2.82))).toBeCloseTo(1, 2);
  });

  test('has a time but no impulse where no moment is known', () => {
    const curl = {
      ...dumbbell,
      equipment: { kind: 'body-curl-set-up', barHeightM: 1.3, feetForwardM: 0.7, hands: 2 },
    } as const;
    const noMass = { ...curl, person: { statureCm: 175, bodyMassKg: null } };
    const dose = setDose(still(10, 90), [{ startSeconds: 0, endSeconds: 10 }], noMass);
    expect(dose.timeUnderTensionSeconds.value).toBeCloseTo(10, 9);
    expect(dose.elbowImpulseNms).toBeNull();
  });
});
