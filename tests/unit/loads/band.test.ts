import { describe, expect, test } from 'vitest';
import {
  bandTension,
  fitBandCurve,
  longestKnownM,
  type BandCurve,
} from '../../../src/core/loads/band-force.ts';
import {
  bandCourse,
  bandGeometry,
  plannedRotationDeg,
  rotationDrag,
  type BandRun,
} from '../../../src/core/loads/band-pull.ts';
import type { Band, BandReading } from '../../../src/core/loads/equipment.ts';
import { isKnown, type LoadValue } from '../../../src/core/loads/load-figure.ts';
import { SAMPLE_BAND } from '../../helpers/sample-equipment.ts';

const known = (value: LoadValue) => {
  if (!isKnown(value)) throw new Error(value.notKnown);
  return value;
};
const fitted = (restLengthM: number, readings: BandReading[]): BandCurve => {
  const curve = fitBandCurve({ restLengthM, readings });
  if (!isKnown(curve)) throw new Error(curve.notKnown);
  return curve;
};

/** Older supplier's table of seven grades, 25 to 250 % in steps of 25, normalised to the force at 100 %, mean over grades. */
const TABLE = [0.382, 0.645, 0.837, 1, 1.144, 1.289, 1.422, 1.568, 1.72, 1.882];
const reading = (step: number, restLengthM: number, forceN: number): BandReading => ({
  lengthM: restLengthM * (1 + 0.25 * (step + 1)),
  forceN: forceN * (TABLE[step] ?? NaN),
});

describe('the curve of a band', () => {
  test('through two readings of a published table is within 6 % of the eight that it was not told', () => {
    const curve = fitted(0.5, [reading(3, 0.5, 30), reading(9, 0.5, 30)]);
    TABLE.forEach((share, step) => {
      const { value } = known(bandTension(curve, 0.5 * (1 + 0.25 * (step + 1))));
      expect(Math.abs(value / (30 * share) - 1)).toBeLessThan(0.06);
    });
  });

  test('is concave as measured: twice the stretch pulls 1.46 times as hard, never twice', () => {
    // Supplier's figures at 100 and 200 %: 4.6 and 6.7 lbf.
    const curve = fitted(
      0.5,
      [3, 5, 9].map((step) => reading(step, 0.5, 20.5)),
    );
    const ratio = known(bandTension(curve, 1.5)).value / known(bandTension(curve, 1)).value;
    expect(ratio).toBeGreaterThan(1.4);
    expect(ratio).toBeLessThan(1.65);
  });

  test('is never surer than a fifth with few readings, and a poor fit makes it less sure', () => {
    expect(fitted(0.5, [reading(3, 0.5, 30), reading(9, 0.5, 30)]).doubtShare).toBe(0.2);
    const many = fitted(
      0.5,
      TABLE.map((_, step) => reading(step, 0.5, 30)),
    );
    expect(many.doubtShare).toBe(0.12);
    // A pull that grows faster and faster is no rubber band.
    const convex = fitted(0.5, [
      { lengthM: 0.75, forceN: 5 },
      { lengthM: 1, forceN: 20 },
      { lengthM: 1.25, forceN: 60 },
    ]);
    expect(convex.doubtShare).toBeGreaterThan(0.4);
  });

  test('holds the readings within its span', () => {
    const readings = [1, 4, 8].map((step) => reading(step, 0.5, 40));
    const curve = fitted(0.5, readings);
    for (const { lengthM, forceN } of readings) {
      const { least, most } = known(bandTension(curve, lengthM));
      expect(forceN).toBeGreaterThan(least);
      expect(forceN).toBeLessThan(most);
    }
  });

  test('pulls nothing loose, refuses far beyond the readings, and is less sure just beyond them', () => {
    const curve = fitted(0.5, [reading(1, 0.5, 30), reading(3, 0.5, 30)]);
    expect(known(bandTension(curve, 0.5))).toMatchObject({ value: 0, least: 0, most: 0 });
    expect(bandTension(curve, 1.2)).toEqual({ notKnown: 'stretched-beyond-readings' });
    const share = (lengthM: number): number => {
      const { value, most } = known(bandTension(curve, lengthM));
      return (most - value) / value;
    };
    expect(longestKnownM(curve)).toBeCloseTo(1.1, 9);
    expect(share(1.1)).toBeGreaterThan(1.9 * share(1));
  });

  test.each([
    [
      'one length',
      [
        { lengthM: 1, forceN: 20 },
        { lengthM: 1, forceN: 21 },
      ],
      'readings-too-close',
    ],
    [
      'all loose',
      [
        { lengthM: 0.3, forceN: 0 },
        { lengthM: 0.5, forceN: 0 },
      ],
      'readings-too-close',
    ],
    [
      'falling',
      [
        { lengthM: 0.8, forceN: 20 },
        { lengthM: 1.2, forceN: 15 },
      ],
      'readings-do-not-rise',
    ],
  ])('is refused for readings of %s', (_, readings, problem) => {
    expect(fitBandCurve({ restLengthM: 0.5, readings })).toEqual({ notKnown: problem });
  });
});

/**
 * Closed form, worked by hand: anchor 1.00 m below the elbow, hand at 0.32 m, upper arm vertical, l^2 = p^2 + c^2 - 2 p c cos f,
 * lever p c sin f / l, a spring of 20 N for every 0.60 m beyond 0.60 m.
 */
describe('the line of a band', () => {
  const below: BandRun = {
    anchorM: { forward: 0, outward: 0, up: -1 },
    leavesHand: 'middle',
    fromForearmAxisM: 0,
  };
  const momentNm = (deg: number): number => {
    const { lengthM, flexionLeverM } = bandGeometry(below, 0.32, deg, 80);
    return ((20 * (lengthM - 0.6)) / 0.6) * flexionLeverM;
  };

  test.each([
    [0, 0.68, 0],
    [30, 0.7404, 1.011],
    [60, 0.8845, 2.972],
    [90, 1.05, 4.571],
    [120, 1.1926, 4.59],
    [140, 1.262, 3.597],
  ])('from the floor at %i deg is %f m long and asks for %f N m', (deg, lengthM, expectedNm) => {
    expect(bandGeometry(below, 0.32, deg, 80).lengthM).toBeCloseTo(lengthM, 4);
    expect(momentNm(deg)).toBeCloseTo(expectedNm, 3);
  });

  test('from the floor is hardest at 105.4 deg with 4.814 N m, later than the flexors are strongest', () => {
    const angles = Array.from({ length: 1401 }, (_, tenth) => tenth / 10);
    const peak = angles.reduce((best, deg) => (momentNm(deg) > momentNm(best) ? deg : best), 0);
    expect(peak).toBeCloseTo(105.4, 1);
    expect(momentNm(peak)).toBeCloseTo(4.814, 3);
  });

  test('turns the forearm by force times distance: 20 N at 4 cm are 0.80 N m', () => {
    // Palm up, forearm level: the thumb points outwards, and going on with supination it would go down. The anchor is
    // straight below it, so the pull goes with supination.
    const run: BandRun = {
      anchorM: { forward: 0.32, outward: 0.04, up: -5 },
      leavesHand: 'thumb-side',
      fromForearmAxisM: 0.04,
    };
    expect(20 * bandGeometry(run, 0.32, 90, 90).pronationLeverM).toBeCloseTo(-0.8, 6);
    // On the other side of the hand it does the opposite.
    const other: BandRun = {
      ...run,
      anchorM: { ...run.anchorM, outward: -0.04 },
      leavesHand: 'little-finger-side',
    };
    expect(20 * bandGeometry(other, 0.32, 90, 90).pronationLeverM).toBeCloseTo(0.8, 6);
  });

  test('turns nothing where it leaves the hand on the forearm’s axis, nor bends where it runs through the elbow', () => {
    const through: BandRun = { ...below, anchorM: { forward: -1, outward: 0, up: 0 } };
    const at = bandGeometry(through, 0.32, 90, 30);
    expect(at.pronationLeverM).toBe(0);
    expect(at.flexionLeverM).toBeCloseTo(0, 12);
  });
});

describe('a band curl', () => {
  const BAND: Band = {
    ...SAMPLE_BAND,
    anchorM: { forward: 0, outward: 0, up: -1 },
    leavesHand: 'thumb-side',
    fromForearmAxisM: 0.04,
  };
  const RANGE = { startFlexionDeg: 10, topFlexionDeg: 130 };
  const person = { statureCm: 175, bodyMassKg: 75 };
  const drag = (changed: Partial<Band>) => {
    const course = bandCourse({ ...BAND, ...changed }, person, 'supinated', RANGE, [10, 50, 90, 130]);
    if (!isKnown(course)) throw new Error(course.notKnown);
    return rotationDrag(course.pulls.filter(isKnown));
  };

  test('from the floor drags a palm that is up into pronation from the little finger, the opposite from the thumb', () => {
    expect(drag({})).toBe('supinates');
    expect(drag({ leavesHand: 'little-finger-side' })).toBe('pronates');
    expect(drag({ leavesHand: 'middle', fromForearmAxisM: 0 })).toBe('none');
  });

  test('turns from full pronation at the straight end to full supination at the bent end when asked', () => {
    expect([10, 70, 130].map((deg) => plannedRotationDeg('turning', deg, RANGE))).toEqual([-80, 0, 80]);
    expect(plannedRotationDeg('supinated', 10, RANGE)).toBe(80);
  });

  test('has a span of at least a fifth in its pull and its moment', () => {
    const course = bandCourse(BAND, person, 'supinated', RANGE, [60, 90]);
    if (!isKnown(course)) throw new Error(course.notKnown);
    for (const pull of course.pulls.filter(isKnown)) {
      for (const { value, least, most } of [pull.tensionN, pull.flexionMomentNm]) {
        expect(most - value).toBeGreaterThan(0.2 * value - 1e-9);
        expect(value - least).toBeGreaterThan(0.2 * value - 1e-9);
      }
    }
  });
});
