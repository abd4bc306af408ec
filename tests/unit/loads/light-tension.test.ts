import { describe, expect, it } from 'vitest';
import { anchorMove, relaxedRotationDeg, turnsPalmDown } from '../../../src/core/loads/light-tension.ts';
import { bandGeometry, type BandRun } from '../../../src/core/loads/band-pull.ts';
import { holdBarHeightM } from '../../../src/core/loads/bar-height.ts';

const PERSON = { statureCm: 175, bodyMassKg: null };
const RIGHT_ANGLE = 90;

/** The forearm level and forward, thumb up: a band that leaves the hand at the thumb's side and runs inwards turns it over. */
const INWARDS: BandRun = {
  anchorM: { forward: 0.32, outward: -1, up: 0.05 },
  leavesHand: 'thumb-side',
  fromForearmAxisM: 0.05,
};

describe('the light-tension test by calculation', () => {
  it('finds the palm down where the band pulls the thumb inwards, and up where it pulls it outwards', () => {
    expect(turnsPalmDown(INWARDS, PERSON, RIGHT_ANGLE)).toBe(true);
    const outwards = { ...INWARDS, anchorM: { ...INWARDS.anchorM, outward: 1 } };
    expect(relaxedRotationDeg(outwards, PERSON, RIGHT_ANGLE)).toBeGreaterThan(45);
    expect(turnsPalmDown(outwards, PERSON, RIGHT_ANGLE)).toBe(false);
  });

  it('leaves the forearm where it is when the band runs through its axis', () => {
    const through = { ...INWARDS, fromForearmAxisM: 0 };
    expect(relaxedRotationDeg(through, PERSON, RIGHT_ANGLE)).toBe(0);
    expect(anchorMove(through, PERSON, RIGHT_ANGLE)).toBeNull();
  });

  it('names a move of the anchor that drags more towards palm down', () => {
    const ahead = { ...INWARDS, anchorM: { forward: 1.5, outward: 0.2, up: 0 } };
    const lever = (run: BandRun): number => bandGeometry(run, 0.183 * 1.75, RIGHT_ANGLE, 0).pronationLeverM;
    expect(anchorMove(ahead, PERSON, RIGHT_ANGLE)).toBe('inward');
    const moved = { ...ahead, anchorM: { ...ahead.anchorM, outward: 0 } };
    expect(lever(moved)).toBeGreaterThan(lever(ahead));
  });
});

describe('the height of a bar', () => {
  it('puts the hand at the elbow at a right angle: 63 % of stature (Winter, from memory: 0.630)', () => {
    expect(holdBarHeightM(PERSON, 90) / 1.75).toBeCloseTo(0.63, 2);
  });

  it('is lower for a straighter elbow, by the forearm to the grip', () => {
    const difference = holdBarHeightM(PERSON, 90) - holdBarHeightM(PERSON, 0);
    expect(difference).toBeCloseTo(0.183 * 1.75, 9);
  });
});
