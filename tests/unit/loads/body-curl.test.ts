import { describe, expect, test } from 'vitest';
import { bodyCurlLoad, handsForce, type ForceLine } from '../../../src/core/loads/body-curl.ts';
import type { HangingBody } from '../../../src/core/loads/hanging-body.ts';
import { CENTRE_OVER_SHOULDER_HEIGHT } from '../../../src/core/loads/load-limits.ts';
import { isKnown } from '../../../src/core/loads/load-figure.ts';
import { toRadians } from '../../../src/core/math/angle.ts';
import type { BodyCurlSetUp } from '../../../src/core/loads/equipment.ts';

const RATIO = CENTRE_OVER_SHOULDER_HEIGHT.value;

/** A straight body of shoulder height 1, leaning back from the vertical, its hands held at a place. */
function leaningBack(fromVerticalDeg: number, hand: HangingBody['hand']): HangingBody {
  const lean = toRadians(fromVerticalDeg);
  const along = (share: number) => ({ forward: -share * Math.sin(lean), up: share * Math.cos(lean) });
  const shoulder = along(1);
  return { feet: along(0), hand, shoulder, elbow: shoulder, centre: along(RATIO) };
}

const share = (body: HangingBody, line: ForceLine): number => handsForce(body, line)?.share ?? NaN;

/**
 * Melrose & Dawes 2015, J Athl Enhanc 4(1), n = 40: lean-back in straps, arms straight, feet under the anchor, angle from the
 * vertical, per cent of body weight and its standard deviation.
 */
const MEASURED = [
  [30, 37.44],
  [45, 52.88],
  [60, 68.08],
  [75, 79.38],
] as const;

describe('the share of body weight at the hands, against measured lean-backs', () => {
  // The anchor's height is not in the source: assumed at shoulder height, straight above the feet.
  const inStraps = (deg: number): HangingBody => leaningBack(deg, { forward: 0, up: 1 });

  test.each(MEASURED)('at %i deg the force along the arm is within 5 points of %f %%', (deg, measured) => {
    expect(share(inStraps(deg), 'along-arm')).toBeCloseTo(2 * RATIO * Math.sin(toRadians(deg / 2)), 6);
    expect(Math.abs(100 * share(inStraps(deg), 'along-arm') - measured)).toBeLessThan(5);
  });

  test.each(MEASURED)('at %i deg the smallest force is 2 to 13 points below %f %%', (deg, measured) => {
    expect(share(inStraps(deg), 'perpendicular')).toBeCloseTo(RATIO * Math.sin(toRadians(deg)), 6);
    const short = measured - 100 * share(inStraps(deg), 'perpendicular');
    expect(short).toBeGreaterThan(2);
    expect(short).toBeLessThan(13.5);
  });

  test.each(MEASURED)('at %i deg a vertical force above the feet cannot hold the body at all', (deg) => {
    expect(handsForce(inStraps(deg), 'vertical')).toBeNull();
  });

  test('the three differ by a factor of two at 30 deg, with the hands on the body’s line', () => {
    const body = leaningBack(30, { forward: -Math.sin(toRadians(30)), up: Math.cos(toRadians(30)) });
    expect(share(body, 'vertical')).toBeCloseTo(RATIO, 6);
    expect(share(body, 'vertical') / share(body, 'perpendicular')).toBeCloseTo(2, 6);
  });

  test('a push-up is the vertical force of a body near the level: 69 % of body weight', () => {
    // Suprak, Dawes & Stephenson 2011: 69.16 up; Mier et al. 2014: 67.0 +/- 3.8 men, 65.1 +/- 3.1 women.
    const body = leaningBack(85, { forward: -Math.sin(toRadians(85)), up: Math.cos(toRadians(85)) });
    expect(100 * share(body, 'vertical')).toBeCloseTo(69.2, 1);
    expect(Math.abs(100 * share(body, 'vertical') - 67)).toBeLessThan(3.8);
  });
});

describe('a body-moving curl', () => {
  const SET_UP: BodyCurlSetUp = { kind: 'body-curl-set-up', barHeightM: 1.3, feetForwardM: 0.7, hands: 2 };
  const person = { statureCm: 175, bodyMassKg: 75 };
  const load = (
    changed: Partial<BodyCurlSetUp>,
    flexionDeg = 60,
    who: typeof person | { statureCm: number; bodyMassKg: null } = person,
  ) => {
    const found = bodyCurlLoad({ ...SET_UP, ...changed }, who, flexionDeg);
    if (!isKnown(found)) throw new Error(found.notKnown);
    return found;
  };

  test('keeps its limbs’ lengths and its elbow angle', () => {
    const { body } = load({}, 75);
    const apart = (a: HangingBody['hand'], b: HangingBody['hand']) =>
      Math.hypot(a.forward - b.forward, a.up - b.up);
    expect(apart(body.feet, body.shoulder)).toBeCloseTo(0.818 * 1.75, 9);
    expect(apart(body.shoulder, body.elbow)).toBeCloseTo(0.186 * 1.75, 9);
    expect(apart(body.elbow, body.hand)).toBeCloseTo(0.183 * 1.75, 9);
    const [u, v] = [
      [body.elbow.forward - body.shoulder.forward, body.elbow.up - body.shoulder.up],
      [body.hand.forward - body.elbow.forward, body.hand.up - body.elbow.up],
    ] as const;
    // From upper arm to forearm the turn is from forward to up: bending, not bending backwards.
    expect(Math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])).toBeCloseTo(toRadians(75), 9);
  });

  test('is lighter with a higher bar and heavier with the feet further forward', () => {
    expect(load({ barHeightM: 1.5 }).handShare.value).toBeLessThan(load({}).handShare.value);
    expect(load({ feetForwardM: 0.3 }).handShare.value).toBeLessThan(load({}).handShare.value);
  });

  test('halves the force of a hand with two, and keeps the share', () => {
    expect(load({ hands: 1 }).handForceN?.value).toBeCloseTo(2 * (load({}).handForceN?.value ?? NaN), 6);
    expect(load({ hands: 1 }).handShare.value).toBe(load({}).handShare.value);
  });

  test('spans every assumption that can hold the body, and more for the doubts', () => {
    const { handShare, forces } = load({});
    const shares = Object.values(forces).flatMap((force) => force?.share ?? []);
    expect(shares.length).toBeGreaterThanOrEqual(2);
    expect(handShare.least).toBeLessThan(Math.min(...shares));
    expect(handShare.most).toBeGreaterThan(Math.max(...shares));
  });

  test('has a share but no force and no moment without a body mass', () => {
    const found = load({}, 60, { statureCm: 175, bodyMassKg: null });
    expect(found.handShare.value).toBeGreaterThan(0.3);
    expect([found.handForceN, found.elbowMomentNm, found.shoulderMomentNm]).toEqual([null, null, null]);
  });

  test('is out of reach where feet and body cannot meet the bar', () => {
    expect(bodyCurlLoad({ ...SET_UP, barHeightM: 2.4, feetForwardM: 1.5 }, person, 90)).toEqual({
      notKnown: 'out-of-reach',
    });
  });
});
