import { describe, expect, test } from 'vitest';
import {
  barCeiling,
  barCeilingFigure,
  barHoldMoment,
  barReactions,
  barTippingFigure,
  ceilingAlongBar,
} from '../../../src/core/loads/bar-statics.ts';
import { barPullOutcomes, lightBarPullOutcomes } from '../../../src/core/loads/bar-seat.ts';
import { barSchema, type Bar } from '../../../src/core/loads/equipment.ts';
import { isKnown, type LoadValue } from '../../../src/core/loads/load-figure.ts';
import { BAR_AT_ITS_ENDS as BAR } from '../../helpers/sample-equipment.ts';

const WEIGHT_N = 196.133;

const ceilingN = (changed: Partial<Bar>): number => {
  const ceiling = barCeiling({ ...BAR, ...changed });
  if (!isKnown(ceiling)) throw new Error(ceiling.notKnown);
  return ceiling.forceN;
};
const known = (value: LoadValue) => {
  if (!isKnown(value)) throw new Error(value.notKnown);
  return value;
};

/** Statics of a rigid uniform bar; the figures are worked by hand from moments about a support. */
describe('a uniform 20 kg bar of 2.20 m on two supports', () => {
  test.each([
    ['at one end: half its weight', { gripsM: [2.2] }, 98.07],
    ['in the middle: all of it', { gripsM: [1.1] }, 196.13],
    ['30 cm in from the end', { gripsM: [1.9] }, 113.55],
    ['two hands at the ends: half of it each', { gripsM: [0, 2.2] }, 98.07],
    ['two hands 40 cm apart about the middle', { gripsM: [0.9, 1.3] }, 98.07],
    ['supports 1.10 m apart, at the end: a third', { supportsM: [0.55, 1.65], gripsM: [2.2] }, WEIGHT_N / 3],
  ] satisfies [string, Partial<Bar>, number][])('starts to lift %s', (_, changed, forceN) => {
    expect(ceilingN(changed)).toBeCloseTo(forceN, 2);
  });

  test('leaves the support on the side of the grip first, and both from the middle', () => {
    expect(barCeiling(BAR)).toMatchObject({ risesAt: 'right' });
    expect(barCeiling({ ...BAR, gripsM: [0.2] })).toMatchObject({ risesAt: 'left' });
    expect(barCeiling({ ...BAR, gripsM: [1.1] })).toMatchObject({ risesAt: 'both' });
  });

  test('lifts at the other support when it is held down at the near one, later', () => {
    const held = { gripsM: [1.6], heldDown: [false, true] } satisfies Partial<Bar>;
    // About the right support: W 1.1 = F 0.6.
    expect(ceilingN(held)).toBeCloseTo((WEIGHT_N * 1.1) / 0.6, 2);
    expect(ceilingN(held)).toBeGreaterThan(ceilingN({ gripsM: [1.6] }));
  });

  test('sets no limit where it is held down at both, nor at an end that is held', () => {
    expect(barCeiling({ ...BAR, heldDown: [true, true] })).toEqual({ notKnown: 'no-ceiling' });
    expect(barCeiling({ ...BAR, heldDown: [false, true] })).toEqual({ notKnown: 'no-ceiling' });
  });

  test('does not rest when its middle is outside the supports, unless one holds it down', () => {
    const outside = { ...BAR, supportsM: [0.1, 0.6] as [number, number] };
    expect(barCeiling(outside)).toEqual({ notKnown: 'bar-does-not-rest' });
    expect(barCeiling({ ...outside, heldDown: [true, false] })).toMatchObject({ risesAt: 'right' });
  });

  test('is carried whole by its supports whatever the hands do', () => {
    const { left, right } = barReactions({ ...BAR, gripsM: [0.4, 1.9] }, 30);
    expect(left + right).toBeCloseTo(WEIGHT_N - 60, 6);
  });

  test('tips when it is pulled down outside its supports: W times its lever over the pull’s', () => {
    const overhung = { ...BAR, supportsM: [0.55, 1.65] as [number, number] };
    expect(known(barTippingFigure(overhung)).value).toBeCloseTo(WEIGHT_N, 2);
    expect(barTippingFigure({ ...overhung, gripsM: [1.1] })).toEqual({ notKnown: 'no-ceiling' });
  });

  test('gives more and more as the grip moves from the end to the middle, and the same from either end', () => {
    const along = ceilingAlongBar(BAR, 20).map((place) => place.ceilingN ?? NaN);
    const half = along.slice(0, 11);
    expect([...half].sort((a, b) => a - b)).toEqual(half);
    along.forEach((forceN, index) => expect(forceN).toBeCloseTo(along[20 - index] ?? NaN, 6));
    expect(along[0]).toBeCloseTo(98.07, 2);
    expect(along[10]).toBeCloseTo(196.13, 2);
  });

  test('says how unsure its ceiling is: about 2 % for the mass and some for the places', () => {
    const { value, least, most } = known(barCeilingFigure(BAR));
    expect(value).toBeCloseTo(98.07, 2);
    expect((most - least) / 2 / value).toBeGreaterThan(0.02);
    expect((most - least) / 2 / value).toBeLessThan(0.06);
  });

  test('asks of the elbow at a right angle its ceiling times the forearm, and the forearm’s weight', () => {
    // 98.07 N x 0.32 m + 2.82 N m (75 kg, 1.75 m), and nothing of the bar with a straight arm.
    const person = { statureCm: 175, bodyMassKg: 75 };
    expect(known(barHoldMoment(BAR, person, 90)).value).toBeCloseTo(98.07 * 0.32025 + 2.82, 1);
    expect(known(barHoldMoment(BAR, person, 0)).value).toBeCloseTo(0, 6);
  });
});

describe('the seat of a bar', () => {
  const MIDDLE = { ...BAR, gripsM: [1.1] };
  const seats = (bar: Bar, forceN: number) =>
    Object.fromEntries(barPullOutcomes(bar, forceN).map(({ directionDeg, seat }) => [directionDeg, seat]));

  test('in hooks open above: down holds, up beyond its weight lifts, a strong pull aside climbs out', () => {
    expect(seats(MIDDLE, 190)).toMatchObject({
      0: 'seated',
      90: 'rolls-out',
      180: 'seated',
      270: 'rolls-out',
    });
    expect(seats(MIDDLE, 200)).toMatchObject({ 0: 'lifts', 180: 'seated' });
    expect(seats(MIDDLE, 60)).toMatchObject({ 0: 'seated', 90: 'seated', 270: 'seated' });
  });

  test('at one end is lost at that end first: with half its weight there it lifts, and less aside rolls it out', () => {
    expect(seats(BAR, 97)[0]).toBe('seated');
    expect(seats(BAR, 99)[0]).toBe('lifts');
    expect(seats(BAR, 60)[90]).toBe('rolls-out');
  });

  test('tips when it is pulled down outside its supports, unless the far end is held', () => {
    const overhung: Bar = { ...BAR, supportsM: [0.55, 1.65] };
    expect(seats(overhung, 190)[180]).toBe('seated');
    expect(seats(overhung, 200)[180]).toBe('tips');
    expect(seats({ ...overhung, heldDown: [true, false] }, 200)[180]).toBe('seated');
  });

  test('in hooks open in front: any clear pull to the open side rolls it out, the other way it is held', () => {
    const inFront: Bar = { ...MIDDLE, supportShape: 'open-in-front' };
    expect(seats(inFront, 400)).toMatchObject({
      135: 'rolls-out',
      180: 'seated',
      225: 'seated',
      270: 'seated',
    });
    expect(seats(inFront, 30)[90]).toBe('rolls-out');
  });

  test('of a bar that hangs on nothing but its shape: rings hold all, hooks only what presses in', () => {
    expect(lightBarPullOutcomes('closed').every(({ seat }) => seat === 'seated')).toBe(true);
    const above = lightBarPullOutcomes('open-above').map(({ seat }) => seat);
    expect(above).toEqual([
      'lifts',
      'lifts',
      'rolls-out',
      'rolls-out',
      'seated',
      'rolls-out',
      'rolls-out',
      'lifts',
    ]);
  });
});

describe('a bar that cannot be meant is refused with a sentence', () => {
  test.each([
    ['supports at one place', { supportsM: [1, 1] }, /at least 10 cm/],
    ['a support beyond the end', { supportsM: [0, 2.5] }, /support lies beyond/],
    ['a grip beyond the end', { gripsM: [2.4] }, /grip lies beyond/],
    ['no hand', { gripsM: [] }, /./],
    ['no number', { massKg: NaN }, /./],
  ])('%s', (_, changed, sentence) => {
    const parsed = barSchema.safeParse({ ...BAR, ...changed });
    expect(parsed.success).toBe(false);
    expect(parsed.error?.issues.map(({ message }) => message).join(' ')).toMatch(sentence);
  });
});
