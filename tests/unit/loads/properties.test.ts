import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bandTension, fitBandCurve } from '../../../src/core/loads/band-force.ts';
import { bandGeometry, bandPull } from '../../../src/core/loads/band-pull.ts';
import {
  barCeiling,
  barCeilingFigure,
  barReactions,
  ceilingAlongBar,
} from '../../../src/core/loads/bar-statics.ts';
import { bodyCurlLoad } from '../../../src/core/loads/body-curl.ts';
import { demandCurve } from '../../../src/core/loads/demand.ts';
import { equipmentSchema, type Bar, type Equipment } from '../../../src/core/loads/equipment.ts';
import { isKnown } from '../../../src/core/loads/load-figure.ts';
import { FREE_FALL } from '../../../src/core/loads/load-limits.ts';
import { setDose } from '../../../src/core/loads/set-dose.ts';
import { toDegrees, toRadians } from '../../../src/core/math/angle.ts';
import { fromCm, toCm } from '../../../src/ui/loads/length-cm.ts';
import { anyBand, anyBar, anyBodyCurl, anyPerson, within } from './arbitraries.ts';

const anyEquipment: fc.Arbitrary<Equipment> = fc.oneof(
  anyBar,
  anyBand,
  anyBodyCurl,
  fc.record({ kind: fc.constant('dumbbell' as const), massKg: within(0, 150) }),
);
const anyRange = fc.record({ startFlexionDeg: within(-20, 150), topFlexionDeg: within(0, 170) });

/** Every number in a value, however deep. */
function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  return value !== null && typeof value === 'object' ? Object.values(value).flatMap(numbersIn) : [];
}

/** Every figure in a value, however deep. */
function figuresIn(value: unknown): { value: number; least: number; most: number }[] {
  if (value === null || typeof value !== 'object') return [];
  if ('least' in value && 'most' in value && 'value' in value)
    return [value as { value: number; least: number; most: number }];
  return Object.values(value).flatMap(figuresIn);
}

const close = (a: number, b: number, share = 1e-9): boolean =>
  Math.abs(a - b) <= share * Math.max(1, Math.abs(a), Math.abs(b));

describe('whatever equipment the schema takes', () => {
  test('every figure is a number and lies between its least and its most', () => {
    fc.assert(
      fc.property(
        anyEquipment,
        anyPerson,
        anyRange,
        fc.constantFrom(null, 'supinated' as const, 'turning' as const),
        (equipment, person, range, variant) => {
          expect(equipmentSchema.safeParse(equipment).success).toBe(true);
          const exercise = { equipment, person, variant, range };
          const curve = demandCurve(exercise, undefined, [0, 20, 45, 90, 130, range.startFlexionDeg]);
          const dose = setDose(
            { timesSeconds: [0, 1, 2, 3], flexionDeg: [range.startFlexionDeg, 40, NaN, 90] },
            [{ startSeconds: 0, endSeconds: 3 }],
            exercise,
          );
          const curl = equipment.kind === 'body-curl-set-up' ? bodyCurlLoad(equipment, person, 60) : null;
          const bar =
            equipment.kind === 'bar' ? [barCeilingFigure(equipment), ceilingAlongBar(equipment, 9)] : null;
          const all = [curve, dose, curl, bar];
          expect(numbersIn(all).every(Number.isFinite)).toBe(true);
          for (const { value, least, most } of figuresIn(all)) {
            expect(least).toBeLessThanOrEqual(value);
            expect(most).toBeGreaterThanOrEqual(value);
          }
        },
      ),
      { numRuns: 400 },
    );
  });
});

/**
 * Not on the edge at which a last digit decides: a middle right above a support rests by a hair; a grip above a support
 * relieves the other by next to nothing.
 */
function offEdge({ supportsM: [left, right], gripsM, lengthM }: Bar): boolean {
  const signed = (from: number) =>
    Math.abs(gripsM.reduce((sum, gripM) => sum + gripM - from, 0)) / (right - left);
  return [left, right].every(
    (placeM) => Math.abs(placeM - lengthM / 2) > 1e-6 && Math.abs(signed(placeM) - 1e-3) > 1e-6,
  );
}

describe('a bar', () => {
  test('resists in proportion to its mass, and not to its size', () => {
    fc.assert(
      fc.property(anyBar, within(1.1, 3), (bar, factor) => {
        fc.pre(offEdge(bar));
        const [one, heavier, longer] = [
          barCeiling(bar),
          barCeiling({ ...bar, massKg: bar.massKg * factor }),
          barCeiling({
            ...bar,
            lengthM: bar.lengthM * factor,
            supportsM: [bar.supportsM[0] * factor, bar.supportsM[1] * factor],
            gripsM: bar.gripsM.map((placeM) => placeM * factor),
          }),
        ];
        if (!isKnown(one) || !isKnown(heavier) || !isKnown(longer)) return isKnown(heavier) === isKnown(one);
        return close(heavier.forceN, factor * one.forceN, 1e-6) && close(longer.forceN, one.forceN, 1e-6);
      }),
    );
  });

  test('seen from its other end is the same bar', () => {
    fc.assert(
      fc.property(anyBar, (bar) => {
        const mirrored = {
          ...bar,
          supportsM: [bar.lengthM - bar.supportsM[1], bar.lengthM - bar.supportsM[0]] as [number, number],
          heldDown: [bar.heldDown[1], bar.heldDown[0]] as [boolean, boolean],
          gripsM: bar.gripsM.map((placeM) => bar.lengthM - placeM),
        };
        fc.pre(offEdge(bar));
        const [a, b] = [barCeiling(bar), barCeiling(mirrored)];
        if (!isKnown(a) || !isKnown(b)) return JSON.stringify(a) === JSON.stringify(b);
        return close(a.forceN, b.forceN, 1e-5);
      }),
    );
  });

  test('at its ceiling one support carries nothing and none pulls', () => {
    fc.assert(
      fc.property(anyBar, (bar) => {
        const ceiling = barCeiling({ ...bar, heldDown: [false, false] });
        if (!isKnown(ceiling)) return true;
        const { left, right } = barReactions(bar, ceiling.forceN);
        const slackN = 1e-6 * (bar.massKg * FREE_FALL + ceiling.forceN);
        return Math.abs(Math.min(left, right)) <= slackN;
      }),
    );
  });
});

describe('a band', () => {
  test('through readings twice as strong pulls twice as hard', () => {
    fc.assert(
      fc.property(anyBand, within(1.05, 3), (band, stretch) => {
        const strong = { ...band, readings: band.readings.map((r) => ({ ...r, forceN: 2 * r.forceN })) };
        const [one, two] = [fitBandCurve(band), fitBandCurve(strong)];
        // A pull too small to read may be readable when doubled.
        if (!isKnown(one) || !isKnown(two)) return !isKnown(one);
        const lengthM = stretch * band.restLengthM;
        const [a, b] = [bandTension(one, lengthM), bandTension(two, lengthM)];
        if (!isKnown(a) || !isKnown(b)) return isKnown(a) === isKnown(b);
        return close(b.value, 2 * a.value, 1e-6);
      }),
    );
  });

  test('pulls harder when it is longer, and less for each further bit of stretch', () => {
    fc.assert(
      fc.property(anyBand, (band) => {
        const curve = fitBandCurve(band);
        if (!isKnown(curve)) return true;
        const longest = curve.longestReadingM - curve.restLengthM;
        const forces = [0, 0.25, 0.5, 0.75, 1].map((share) => {
          const tension = bandTension(curve, curve.restLengthM + share * longest);
          return isKnown(tension) ? tension.value : NaN;
        });
        const steps = forces.slice(1).map((force, i) => force - (forces[i] ?? NaN));
        const slackN = 1e-9 * (forces[4] ?? 0);
        return steps.every((step, i) => step >= -slackN && (i === 0 || step <= (steps[i - 1] ?? 0) + slackN));
      }),
    );
  });

  test('mirrored across the arm’s plane bends alike and turns the other way', () => {
    fc.assert(
      fc.property(anyBand, within(0, 140), within(-80, 80), (band, flexionDeg, rotationDeg) => {
        const { anchorM } = band;
        const mirrored = {
          ...band,
          leavesHand: band.leavesHand,
          anchorM: { ...anchorM, outward: 0 - anchorM.outward },
        };
        const [a, b] = [
          bandGeometry(band, 0.32, flexionDeg, rotationDeg),
          bandGeometry(mirrored, 0.32, flexionDeg, 0 - rotationDeg),
        ];
        // The palm looks inwards, so it is its other side that a mirror shows: only thumb and little finger stay.
        if (band.leavesHand === 'middle') return true;
        return close(a.flexionLeverM, b.flexionLeverM) && close(a.pronationLeverM, 0 - b.pronationLeverM);
      }),
    );
  });

  test('has levers that are the change of its length by virtual work', () => {
    fc.assert(
      fc.property(anyBand, within(1, 140), within(-79, 79), (band, flexionDeg, rotationDeg) => {
        const lengthAt = (f: number, r: number): number => bandGeometry(band, 0.32, f, r).lengthM;
        const at = bandGeometry(band, 0.32, flexionDeg, rotationDeg);
        fc.pre(at.lengthM > 0.01);
        const stepDeg = 1e-3;
        const slope = (plus: number, minus: number): number => (plus - minus) / (2 * toRadians(stepDeg));
        const byFlexion = slope(
          lengthAt(flexionDeg + stepDeg, rotationDeg),
          lengthAt(flexionDeg - stepDeg, rotationDeg),
        );
        const bySupination = slope(
          lengthAt(flexionDeg, rotationDeg + stepDeg),
          lengthAt(flexionDeg, rotationDeg - stepDeg),
        );
        return (
          Math.abs(byFlexion - at.flexionLeverM) < 1e-5 && Math.abs(bySupination - at.pronationLeverM) < 1e-5
        );
      }),
    );
  });

  test('without distance from the axis turns nothing', () => {
    fc.assert(
      fc.property(anyBand, anyPerson, within(0, 130), (band, person, flexionDeg) => {
        const curve = fitBandCurve(band);
        if (!isKnown(curve)) return true;
        const pull = bandPull(curve, { ...band, fromForearmAxisM: 0 }, person, flexionDeg, 30);
        return !isKnown(pull) || pull.pronatingMomentNm.value === 0;
      }),
    );
  });
});

describe('a body-moving curl', () => {
  test('loads in proportion to body mass, and two hands halve it', () => {
    fc.assert(
      fc.property(anyBodyCurl, anyPerson, within(0, 130), (setUp, person, flexionDeg) => {
        const massKg = person.bodyMassKg ?? 70;
        const of = (hands: 1 | 2, bodyMassKg: number) =>
          bodyCurlLoad({ ...setUp, hands }, { ...person, bodyMassKg }, flexionDeg);
        const [one, two, heavy] = [of(1, massKg), of(2, massKg), of(1, 2 * massKg)];
        if (!isKnown(one) || !isKnown(two) || !isKnown(heavy))
          return !isKnown(one) && !isKnown(two) && !isKnown(heavy);
        const force = one.handForceN?.value ?? NaN;
        return (
          close(force, 2 * (two.handForceN?.value ?? NaN)) &&
          close(2 * force, heavy.handForceN?.value ?? NaN) &&
          close(2 * (one.elbowMomentNm?.value ?? NaN), heavy.elbowMomentNm?.value ?? NaN) &&
          one.handShare.value === heavy.handShare.value
        );
      }),
    );
  });
});

describe('units', () => {
  test('survive a round trip: degrees and radians, metres and the centimetres of a form', () => {
    fc.assert(fc.property(within(-360, 360), (deg) => close(toDegrees(toRadians(deg)), deg)));
    fc.assert(
      fc.property(fc.integer({ min: -4000, max: 10000 }), (mm) => fromCm(toCm(mm / 1000)) === mm / 1000),
    );
    fc.assert(fc.property(within(0, 1000), (forceN) => close((forceN / FREE_FALL) * FREE_FALL, forceN)));
  });
});
