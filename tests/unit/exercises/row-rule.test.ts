import { describe, expect, it } from 'vitest';
import { judgeSet } from '../../../src/core/exercises/judge-set.ts';
import { isShoulderDominant, rowVotes, type RowVotes } from '../../../src/core/exercises/row-rule.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { curl, row, strict, THREE } from '../../helpers/indicator-figures.ts';
import { alongLegs, secondsOfLegs, traceSeries } from '../../helpers/kinematic-traces.ts';

const CURL: RowVotes = {
  shoulderShare: 'curl',
  elbowBehindTrunk: 'curl',
  elbowMoment: 'curl',
  handClosing: 'curl',
};
const decide = (votes: Partial<RowVotes>): boolean | null =>
  isShoulderDominant({ ...CURL, ...votes }, DEFAULT_THRESHOLDS);

describe('the rule of curl or row', () => {
  it.each<[string, Partial<RowVotes>, boolean | null]>([
    ['nothing speaks for a row', {}, false],
    ['share alone', { shoulderShare: 'row' }, false],
    ['elbow alone', { elbowBehindTrunk: 'row' }, false],
    ['moment and hand without the shoulder', { elbowMoment: 'row', handClosing: 'row' }, false],
    ['share and elbow', { shoulderShare: 'row', elbowBehindTrunk: 'row' }, true],
    ['share and moment', { shoulderShare: 'row', elbowMoment: 'row' }, true],
    ['elbow and hand', { elbowBehindTrunk: 'row', handClosing: 'row' }, true],
    ['share, the moment unknown', { shoulderShare: 'row', elbowMoment: 'unknown' }, null],
    [
      'share and elbow, the rest unknown',
      { shoulderShare: 'row', elbowBehindTrunk: 'row', elbowMoment: 'unknown' },
      true,
    ],
    ['only moment and hand unknown', { elbowMoment: 'unknown', handClosing: 'unknown' }, false],
    [
      'nothing known',
      {
        shoulderShare: 'unknown',
        elbowBehindTrunk: 'unknown',
        elbowMoment: 'unknown',
        handClosing: 'unknown',
      },
      null,
    ],
  ])('%s: %o is %s', (_, votes, expected) => {
    expect(decide(votes)).toBe(expected);
  });

  it('can be made stricter in the plan', () => {
    const votes = { ...CURL, shoulderShare: 'row', elbowMoment: 'row' } as const;
    expect(isShoulderDominant(votes, { ...DEFAULT_THRESHOLDS, dominanceVotes: 4 })).toBe(false);
  });
});

describe('the votes', () => {
  it('say nothing where an interval reaches down to what is normal', () => {
    const level = alongLegs(15, THREE);
    const posture = (t: number) => ({ ...row((level(t) - 15) / 105), elbowDeg: level(t) });
    const wide = traceSeries({ seconds: secondsOfLegs(THREE), posture, halfWidthDeg: 90 });
    const settings = { exercise: 'body-curl', side: 'left', variant: null, statureCm: 170 } as const;
    const [first] = judgeSet(wide, settings, DEFAULT_THRESHOLDS).repetitions;
    if (!first?.row) throw new Error('no repetition was judged');
    expect(rowVotes(first.row, DEFAULT_THRESHOLDS).shoulderShare).toBe('unknown');
  });

  it('are the share of motion that the figure makes', () => {
    const [first] = curl('body-curl', THREE, row).repetitions;
    // 85 deg of extension and 105 of flexion; whole phases, so the edges take a little of both.
    expect(first?.row?.shoulderShare).toMatchObject({ value: expect.closeTo(85 / 190, 1) as number });
    const [curled] = curl('body-curl', THREE, strict).repetitions;
    expect(curled?.row?.shoulderShare).toMatchObject({ value: expect.closeTo(3 / 108, 1) as number });
  });

  it('are null, and nothing is flagged, where the trunk is not measured', () => {
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
    expect(repetitions[0]?.row?.shoulderShare).toEqual({ notMeasured: 'trunk-not-seen' });
    expect(repetitions.flatMap(({ flags }) => flags.map(({ kind }) => kind))).not.toContain(
      'shoulder-dominant',
    );
  });
});
