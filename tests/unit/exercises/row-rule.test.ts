import { describe, expect, it } from 'vitest';
import { judgeSet } from '../../../src/core/exercises/judge-set.ts';
import type { RowIndicators } from '../../../src/core/exercises/judgement.ts';
import { isShoulderDominant, rowSigns } from '../../../src/core/exercises/row-rule.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { curl, row, strict, THREE } from '../../helpers/indicator-figures.ts';
import { alongLegs, secondsOfLegs, traceSeries } from '../../helpers/kinematic-traces.ts';

/** Indicators of a figure's repetition: of a strict curl no sign of a row, of a row all. */
function indicatorsOf(motion: typeof strict | typeof row): RowIndicators {
  const [first] = curl('body-curl', THREE, motion).repetitions;
  if (!first?.row) throw new Error('no repetition was judged');
  return first.row;
}

/** What is said of a share of the work in a movement without signs of a row, or with all of them. */
function decide(low: number, value: number, high: number, threshold = 0.5, motion = strict): boolean | null {
  const indicators = { ...indicatorsOf(motion), shoulderWorkShare: { value, low, high } };
  const thresholds = { ...DEFAULT_THRESHOLDS, shoulderWorkShare: threshold, workShareGreyZone: 0.15 };
  return isShoulderDominant(indicators, thresholds);
}

describe('the rule of curl or row', () => {
  it.each([
    ['no work of the shoulder', 0, 0, 0.1, false],
    ['a small help, which is normal', 0.05, 0.2, 0.4, false],
    ['nearly half', 0.44, 0.49, 0.54, false],
    ['half', 0.45, 0.5, 0.55, true],
    ['nearly all', 0.8, 0.95, 1, true],
    ['little, with an interval up to the middle of the zone', 0.1, 0.3, 0.56, false],
    ['little, with an interval beyond the zone', 0.1, 0.3, 0.6, null],
    ['much, with an interval from below the zone', 0.4, 0.8, 1, null],
    ['much, with an interval from inside the zone', 0.44, 0.8, 1, true],
  ] as const)('%s: %d to %d to %d is %s', (_, low, value, high, expected) => {
    expect(decide(low, value, high)).toBe(expected);
  });

  it('says nothing of what was not measured', () => {
    const unmeasured = { ...indicatorsOf(row), shoulderWorkShare: { notMeasured: 'too-oblique' } as const };
    expect(isShoulderDominant(unmeasured, DEFAULT_THRESHOLDS)).toBeNull();
  });

  it.each([
    ['little work, but a movement as in a row', 0.03, 0.17, 0.41, null],
    ['no work, but a movement as in a row', 0, 0, 0.02, null],
    ['an open share with a movement as in a row', 0.1, 0.45, 0.9, true],
    ['nearly all the work', 0.8, 0.95, 1, true],
  ] as const)('gives all signs of a row a say: %s', (_, low, value, high, expected) => {
    expect(decide(low, value, high, 0.5, row)).toBe(expected);
  });

  it('does not go by some of the signs', () => {
    const { elbowBehindTrunkUpperArms } = indicatorsOf(strict);
    const share = { value: 0.45, low: 0.1, high: 0.9 };
    const some = { ...indicatorsOf(row), elbowBehindTrunkUpperArms, shoulderWorkShare: share };
    expect(isShoulderDominant(some, DEFAULT_THRESHOLDS)).toBeNull();
  });

  it('goes by the share that the plan sets', () => {
    expect(decide(0.25, 0.35, 0.45, 0.3)).toBe(true);
    expect(decide(0.55, 0.65, 0.7, 0.7)).toBe(false);
  });
});

describe('the signs of a row', () => {
  it('are not told where an interval reaches down to what is normal', () => {
    const level = alongLegs(15, THREE);
    const posture = (t: number) => ({ ...row((level(t) - 15) / 105), elbowDeg: level(t) });
    const wide = traceSeries({ seconds: secondsOfLegs(THREE), posture, halfWidthDeg: 90 });
    const settings = { exercise: 'body-curl', side: 'left', variant: null, statureCm: 170 } as const;
    const [first] = judgeSet(wide, settings, DEFAULT_THRESHOLDS).repetitions;
    if (!first?.row) throw new Error('no repetition was judged');
    expect(rowSigns(first.row, DEFAULT_THRESHOLDS).shoulderShare).toBe(false);
    // Nor is anything decided.
    expect(first.shoulderDominant).toBeNull();
  });

  it('are the share of motion that the figure makes', () => {
    const [first] = curl('body-curl', THREE, row).repetitions;
    // 70 deg of extension and 105 of flexion; whole phases, so the edges take a little of both.
    expect(first?.row?.shoulderShare).toMatchObject({ value: expect.closeTo(70 / 175, 1) as number });
    const [curled] = curl('body-curl', THREE, strict).repetitions;
    expect(curled?.row?.shoulderShare).toMatchObject({ value: expect.closeTo(3 / 108, 1) as number });
  });

  it('are none, and nothing is flagged or judged, where the trunk is not measured', () => {
    const level = alongLegs(15, THREE);
    const set = traceSeries({
      seconds: secondsOfLegs(THREE),
      posture: (t) => ({ ...row((level(t) - 15) / 105), elbowDeg: level(t) }),
    });
    const frames = set.frames.map((frame) => ({
      ...frame,
      shoulderFlexionDeg: { notMeasured: 'trunk-not-seen' } as const,
      elbowBehindTrunkUpperArms: { notMeasured: 'trunk-not-seen' } as const,
    }));
    const settings = { exercise: 'body-curl', side: 'left', variant: null, statureCm: 170 } as const;
    const { repetitions } = judgeSet({ ...set, frames }, settings, DEFAULT_THRESHOLDS);
    expect(repetitions).toHaveLength(3);
    expect(repetitions.map(({ shoulderDominant }) => shoulderDominant)).toEqual([null, null, null]);
    expect(repetitions[0]?.row?.shoulderWorkShare).toEqual({ notMeasured: 'trunk-not-seen' });
    expect(repetitions.flatMap(({ flags }) => flags.map(({ kind }) => kind))).not.toContain(
      'shoulder-dominant',
    );
  });
});
