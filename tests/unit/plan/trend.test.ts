import { describe, expect, it } from 'vitest';
import { trendSentence } from '../../../src/core/feedback/trend-words.ts';
import { detectableChange, ENOUGH_DIFFERENCES, ownStandardError } from '../../../src/core/plan/own-change.ts';
import { painChange } from '../../../src/core/plan/pain-change.ts';
import type { TrendMeasure } from '../../../src/core/plan/trend-measures.ts';
import { trendOf, type Trend } from '../../../src/core/plan/trend.ts';
import type { TrainingDay } from '../../../src/core/plan/training-day.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';

const plan = nextVersion(inventedPlan(), { stageKey: 'body-curl' }, '2026-03-01T11:00:00+01:00');
const DATES = [
  '03-02',
  '03-04',
  '03-06',
  '03-09',
  '03-11',
  '03-13',
  '03-16',
  '03-18',
  '03-20',
  '03-23',
  '03-25',
  '03-27',
];

function lowering(seconds: readonly number[]): TrainingDay[] {
  return seconds.map((loweringSeconds, index) =>
    dayOn(plan, DATES[index] ?? '', { measured: { loweringSeconds } }),
  );
}

function pick(days: readonly TrainingDay[], measure: TrendMeasure): Trend {
  const found = trendOf(days).find((trend) => trend.measure === measure && trend.exercise !== 'hold');
  if (!found) throw new Error(`There is no ${measure}.`);
  return found;
}

describe('a change is one only above what may be chance', () => {
  it('by the table, until there are enough own sessions', () => {
    const small = pick(lowering([2.5, 2.5, 2.5, 3.4, 3.4]), 'lowering');
    expect(small).toMatchObject({ limit: { from: 'table', value: 1.08 }, verdict: 'no-change' });
    expect(small.change).toBeCloseTo(0.9);
    expect(trendSentence(small)).toBe(
      'Lowering time (body-moving curl): 2.5 s in the first week, 3.4 s in the last: no change, because a change under 1.1 s may be chance (from rendered people, camera put up anew).',
    );
    expect(pick(lowering([2.5, 2.5, 2.5, 3.6, 3.6]), 'lowering').verdict).toBe('more');
    expect(pick(lowering([3.6, 3.6, 3.6, 2.5, 2.5]), 'lowering').verdict).toBe('less');
  });

  it('by the own sessions, once there are enough of them', () => {
    const steps = Array.from({ length: ENOUGH_DIFFERENCES + 1 }, (_, index) => 2.5 + (index % 2) * 0.2);
    expect(pick(lowering(steps.slice(0, -1)), 'lowering').limit?.from).toBe('table');
    const own = pick(lowering(steps), 'lowering');
    // Ten differences of 0.2: SEM = sqrt(10 * 0.04 / 20) = 0.1414, times 2.7719.
    expect(own.limit?.from).toBe('own-sessions');
    expect(own.limit?.value).toBeCloseTo(0.392, 3);
    expect(own.limit?.sessionCount).toBe(11);
    expect(trendSentence(own)).toContain('from 11 own sessions');
  });

  it('never below what the chain itself costs', () => {
    const still = lowering(Array.from({ length: 12 }, () => 3));
    expect(pick(still, 'lowering').limit).toEqual({ value: 0.19, from: 'own-sessions', sessionCount: 12 });
  });

  it('is not said of one week, nor of a dose, which the plan itself changes', () => {
    expect(pick(lowering([2, 4]), 'lowering')).toMatchObject({ verdict: 'too-early', change: null });
    expect(pick(lowering([3, 3, 3, 3]), 'tension')).toMatchObject({ limit: null, verdict: 'limit-unknown' });
  });

  it('weeks without training stay blank between the others', () => {
    const days = [...lowering([3, 3]), dayOn(plan, '03-23')];
    expect(pick(days, 'lowering').weeks.map(({ mean, dayCount }) => [mean, dayCount])).toEqual([
      [3, 2],
      [null, 0],
      [null, 0],
      [3, 1],
    ]);
  });
});

describe('a change of pain counts with 2 points and 30 % together', () => {
  it.each([
    [6, 4, 'less'],
    [6, 4.1, 'no-change'],
    [7, 5, 'no-change'],
    [8, 5, 'less'],
    [3, 1, 'less'],
    [2, 1, 'no-change'],
    [0, 2, 'more'],
    [0, 1, 'no-change'],
    [4, 6, 'more'],
    [8, 10, 'no-change'],
  ] as const)('%s to %s: %s', (first, last, expected) => {
    expect(painChange(first, last)).toBe(expected);
  });

  it('in the trend too', () => {
    const days = [dayOn(plan, '03-02', { painBefore: 6 }), dayOn(plan, '03-09', { painBefore: 3 })];
    const trend = trendOf(days).find(({ measure }) => measure === 'pain-before');
    expect(trend).toMatchObject({ first: 6, last: 3, verdict: 'less' });
    expect(trend && trendSentence(trend)).toContain('2 points and 30 % together');
  });
});

describe('formulas', () => {
  it('the least detectable change is 2.7719 standard errors (Weir 2005)', () => {
    expect(detectableChange(1)).toBeCloseTo(2.7719, 4);
  });

  it('the standard error of pairs is that of the published peak-flow readings', () => {
    // Bland and Altman 1986, Lancet i:307-310, Wright meter, first and second readings of 17 people: within-subject SD
    // 15.31.
    const wright1 = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
    const wright2 = [490, 397, 512, 401, 470, 611, 415, 431, 638, 429, 420, 633, 275, 492, 165, 372, 421];
    // A walk whose successive differences are those of the pairs, so that the same formula must give the same figure.
    const walk = wright1.reduce<number[]>(
      (places, value, index) => [...places, (places.at(-1) ?? 0) + value - (wright2[index] ?? 0)],
      [0],
    );
    expect(ownStandardError(walk)).toBeCloseTo(15.31, 2);
  });

  it('asks for enough differences', () => {
    expect(ownStandardError(Array.from({ length: ENOUGH_DIFFERENCES }, (_, index) => index))).toBeNull();
  });
});
