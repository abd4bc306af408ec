import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  morningPainSentence,
  painRulesWords,
  setPainSentence,
} from '../../../src/core/feedback/pain-words.ts';
import {
  nextMorningCeiling,
  nextMorningPain,
  painAfterSet,
  painCeiling,
  sessionPain,
  worstPain,
} from '../../../src/core/plan/pain.ts';
import type { PainRules } from '../../../src/core/plan/pain-rules.ts';
import { dayOn, inventedPlan } from '../../helpers/plan-days.ts';

const NO_RISE: PainRules = {
  riseAllowed: 0,
  mostAllowed: null,
  nextMorningRiseAllowed: 0,
  offers: ['end-set', 'shorten'],
};
const rules = (change: Partial<PainRules>): { painRules: PainRules } => ({
  painRules: { ...NO_RISE, ...change },
});
const plan = inventedPlan();

describe('the ceiling', () => {
  it('is no rise above the rating before the session, unless the therapist set another', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10 }), (before) => {
        expect(painCeiling(rules({}), before)).toBe(before);
        expect(nextMorningCeiling(rules({}), before)).toBe(before);
      }),
    );
    expect(painCeiling(rules({ riseAllowed: 2 }), 3)).toBe(5);
    expect(nextMorningCeiling(rules({ nextMorningRiseAllowed: 1 }), 3)).toBe(4);
  });

  it('is never above the limit that is never passed, nor above the scale', () => {
    expect(painCeiling(rules({ riseAllowed: 2, mostAllowed: 4 }), 3)).toBe(4);
    expect(painCeiling(rules({ mostAllowed: 4 }), 7)).toBe(4);
    expect(painCeiling(rules({ riseAllowed: 5 }), 8)).toBe(10);
  });

  it('is not guessed where the rating before was not given', () => {
    expect(painCeiling(rules({}), null)).toBeNull();
    expect(painCeiling(rules({ mostAllowed: 5 }), null)).toBe(5);
  });
});

describe('the rating after a set', () => {
  it('above the ceiling offers what the plan offers, in its order, and says the numbers', () => {
    const verdict = painAfterSet(rules({}), 2, 3);
    expect(verdict).toEqual({ verdict: 'above', ceiling: 2, offers: ['end-set', 'shorten'] });
    expect(setPainSentence(verdict, 3)).toBe('Pain is 3 now; your plan allows up to 2. Rest, then choose.');
  });

  it('at the ceiling offers nothing and says nothing', () => {
    const verdict = painAfterSet(rules({}), 2, 2);
    expect(verdict).toEqual({ verdict: 'within', ceiling: 2, offers: [] });
    expect(setPainSentence(verdict, 2)).toBeNull();
  });

  it('that is missing is neither', () => {
    expect(painAfterSet(rules({}), 2, null).verdict).toBe('not-answered');
    expect(painAfterSet(rules({}), null, 4).verdict).toBe('not-answered');
    expect(painAfterSet(rules({}), null, 0).verdict).toBe('within');
    expect(painAfterSet(rules({ mostAllowed: 3 }), null, 4).verdict).toBe('above');
  });

  it('never urges on, whatever it is', () => {
    fc.assert(
      fc.property(
        fc.option(fc.integer({ min: 0, max: 10 }), { nil: null }),
        fc.option(fc.integer({ min: 0, max: 10 }), { nil: null }),
        (before, after) => {
          const sentence = setPainSentence(painAfterSet(plan, before, after), after) ?? '';
          expect(sentence).not.toMatch(/go on|continue|keep going|push|harder|!|undefined|null/i);
        },
      ),
    );
  });
});

describe('a whole day', () => {
  it('is above when one rating is, or when it was ended because of pain', () => {
    expect(sessionPain(plan, dayOn(plan, '03-02'))).toBe('within');
    expect(sessionPain(plan, dayOn(plan, '03-02', { painAtEnd: 3 }))).toBe('above');
    expect(sessionPain(plan, dayOn(plan, '03-02', { painAfter: 3 }))).toBe('above');
    expect(sessionPain(plan, dayOn(plan, '03-02', { endedBecause: 'pain', painAfter: null }))).toBe('above');
  });

  it('is not answered when a rating is missing and none is above', () => {
    expect(sessionPain(plan, dayOn(plan, '03-02', { painAfter: null }))).toBe('not-answered');
    expect(sessionPain(plan, dayOn(plan, '03-02', { painBefore: null }))).toBe('not-answered');
    expect(sessionPain(plan, dayOn(plan, '03-02', { painAfter: null, painAtEnd: 6 }))).toBe('above');
  });

  it('has its worst rating, and none where none was given', () => {
    expect(worstPain(dayOn(plan, '03-02', { painAfter: 1, painAtEnd: 4 }))).toBe(4);
    expect(worstPain(dayOn(plan, '03-02', { painAfter: null, painAtEnd: null }))).toBeNull();
  });

  it('has the next morning weighed against the rating before the session', () => {
    expect(nextMorningPain(plan, dayOn(plan, '03-02', { morning: 2 }))).toBe('within');
    expect(nextMorningPain(plan, dayOn(plan, '03-02', { morning: 3 }))).toBe('above');
    expect(nextMorningPain(plan, dayOn(plan, '03-02', { morning: null }))).toBe('not-answered');
    expect(morningPainSentence(4, 2)).toContain('4; your plan allows up to 2');
    expect(morningPainSentence(2, null)).toContain('cannot be compared');
  });
});

it('the rules are said with their numbers', () => {
  expect(painRulesWords({ ...NO_RISE, riseAllowed: 1, mostAllowed: 5 })).toEqual([
    'In a session pain may rise by up to 1 point above the rating before it.',
    'The next morning pain may not rise above the rating before the session.',
    'Pain may never be above 5.',
  ]);
});
