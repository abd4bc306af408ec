import { describe, expect, it } from 'vitest';
import { painAfterSet } from '../../../src/core/plan/pain.ts';
import { questionAfter, questionBefore, questionsOf } from '../../../src/core/plan/set-questions.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';

const plan = inventedPlan();
const asked = (
  painBefore: number | null,
  painAfter: number | null,
  exercise: 'hold' | 'band-curl' = 'hold',
) => questionsOf(exercise, { painAfter }, painAfterSet(plan, painBefore, painAfter));

describe('the questions after a set', () => {
  it('are pain first and effort, and after a band where it was hardest', () => {
    expect(asked(2, 0)).toEqual(['pain', 'effort']);
    expect(asked(2, null)).toEqual(['pain', 'effort']);
    expect(asked(2, 0, 'band-curl')).toEqual(['pain', 'effort', 'hardest']);
    expect(questionsOf('hold', null, painAfterSet(plan, 2, null))).toEqual(['pain', 'effort']);
  });

  it('ask where it hurts when it does, and offer less before anything else above the ceiling', () => {
    expect(asked(2, 2)).toEqual(['pain', 'places', 'effort']);
    expect(asked(2, 6)).toEqual(['pain', 'offers', 'places', 'effort']);
    expect(asked(0, 5, 'band-curl')).toEqual(['pain', 'offers', 'places', 'effort', 'hardest']);
  });

  it('come one after another to the end, and back to the first', () => {
    const all = asked(0, 5, 'band-curl');
    const forward = all.map((question) => questionAfter(all, question));
    expect(forward).toEqual([...all.slice(1), null]);
    expect([...all.slice(1), null].map((question) => questionBefore(all, question))).toEqual(all);
    expect(questionBefore(all, 'pain')).toBe('pain');
  });

  it('go back to what is still asked when the rating was changed to one within the ceiling', () => {
    expect(questionBefore(asked(2, 0), 'effort')).toBe('pain');
    expect(questionAfter(asked(2, 6), 'pain')).toBe('offers');
    expect(questionAfter(asked(2, 1), 'pain')).toBe('places');
  });
});
