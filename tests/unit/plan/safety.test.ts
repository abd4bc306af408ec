import { describe, expect, it } from 'vitest';
import {
  holdClearanceSentence,
  NO_CLEARS_NOBODY,
  PLAN_QUESTION_WORDS,
  SESSION_QUESTION_WORDS,
  sessionClearanceSentence,
} from '../../../src/core/feedback/safety-words.ts';
import { mayExerciseStart, mayHoldsStart, maySessionStart } from '../../../src/core/plan/may-start.ts';
import type { Plan } from '../../../src/core/plan/plan.ts';
import { PLAN_QUESTIONS, SESSION_QUESTIONS } from '../../../src/core/plan/safety-questions.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';

const plan = inventedPlan();
const ASKED = '2026-03-01T10:00:00+01:00';
const LATER = '2026-03-01T10:00:01+01:00';
const NOTHING_BEFORE = { days: [], versions: [plan], decisions: [] };

function answered(
  yes: NonNullable<Plan['screening']>['yes'],
  decided?: 'allowed' | 'withheld',
  at = LATER,
): Plan {
  return {
    ...plan,
    screening: { answeredAt: ASKED, yes },
    highEffort: decided ? { decided, decidedAt: at, reason: 'Seen.' } : null,
  };
}

describe('the questions before the first plan', () => {
  it.each(PLAN_QUESTIONS)('a yes to %s lets no hold start before the therapist has decided', (question) => {
    const clearance = mayHoldsStart(answered([question]));
    expect(clearance).toEqual({ mayStart: false, because: 'waits-for-therapist', yes: [question] });
    expect(holdClearanceSentence(clearance)).toContain(PLAN_QUESTION_WORDS[question].short);
    expect(mayHoldsStart(answered([question], 'allowed')).mayStart).toBe(true);
    expect(mayHoldsStart(answered([question], 'withheld')).mayStart).toBe(false);
  });

  it('lets no hold start before they were asked', () => {
    expect(mayHoldsStart({ screening: null, highEffort: null })).toMatchObject({ because: 'not-asked' });
    const decided = { decided: 'allowed', decidedAt: LATER, reason: 'x' } as const;
    expect(mayHoldsStart({ screening: null, highEffort: decided }).mayStart).toBe(false);
  });

  it('a yes that was given after the decision waits for another one', () => {
    expect(mayHoldsStart(answered(['hernia'], 'allowed', '2026-03-01T09:59:59+01:00'))).toMatchObject({
      because: 'waits-for-therapist',
    });
    // The same instant in another zone is not after it.
    expect(mayHoldsStart(answered(['hernia'], 'allowed', '2026-03-01T09:00:00Z')).mayStart).toBe(true);
  });

  it('the therapist may withhold holds even after no to every question', () => {
    expect(mayHoldsStart(answered([])).mayStart).toBe(true);
    expect(mayHoldsStart(answered([], 'withheld'))).toMatchObject({ because: 'withheld' });
  });

  it('only holds wait; other exercises that are held wait too', () => {
    const [hold, curl] = plan.stages[1]?.exercises ?? [];
    const chinUp = plan.stages[6]?.exercises[0];
    if (!hold || !curl || !chinUp) throw new Error('The plan that stands ready has changed.');
    const waiting = answered(['aneurysm']);
    expect(mayExerciseStart(waiting, hold).mayStart).toBe(false);
    expect(mayExerciseStart(waiting, curl).mayStart).toBe(true);
    expect(mayExerciseStart(waiting, { ...chinUp, dose: hold.dose }).mayStart).toBe(false);
  });
});

describe('the questions before each session', () => {
  it.each(SESSION_QUESTIONS)('a yes to %s means no session, and care now', (question) => {
    const day = dayOn(plan, '03-02', { safetyYes: [question] });
    const clearance = maySessionStart(day, NOTHING_BEFORE);
    expect(clearance).toEqual({ mayStart: false, because: 'seek-care', yes: [question] });
    const sentence = sessionClearanceSentence(clearance);
    expect(sentence).toContain('Seek medical care now');
    expect(sentence).toContain(SESSION_QUESTION_WORDS[question].short);
  });

  it('no session starts unasked', () => {
    expect(maySessionStart({ safetyYes: [], safetyAnsweredAt: null }, NOTHING_BEFORE)).toEqual({
      mayStart: false,
      because: 'not-asked',
    });
  });

  it('no the next day does not undo a yes: it waits for a decision or a newer plan', () => {
    const flagged = dayOn(plan, '03-02', { safetyYes: ['pop'] });
    const today = dayOn(plan, '03-04');
    const past = { ...NOTHING_BEFORE, days: [flagged] };
    const clearance = maySessionStart(today, past);
    expect(clearance).toEqual({ mayStart: false, because: 'waits-for-therapist', since: flagged });
    expect(sessionClearanceSentence(clearance)).toContain('a pop');
    const newer = nextVersion(plan, {}, '2026-03-03T09:00:00+01:00', 'Examined.');
    expect(maySessionStart(today, { ...past, versions: [plan, newer] })).toEqual({ mayStart: true });
    const older = nextVersion(plan, {}, '2026-03-02T09:00:00+01:00', 'Before it happened.');
    expect(maySessionStart(today, { ...past, versions: [plan, older] }).mayStart).toBe(false);
  });

  it('a clear sheet is never said to be one', () => {
    expect(sessionClearanceSentence({ mayStart: true })).toBeNull();
    expect(holdClearanceSentence({ mayStart: true, because: 'no-yes' })).toBeNull();
    expect(NO_CLEARS_NOBODY).toMatch(/does not mean that the arm is sound/);
  });

  it('every question is one that yes is the warning to', () => {
    for (const { question, short } of [
      ...Object.values(PLAN_QUESTION_WORDS),
      ...Object.values(SESSION_QUESTION_WORDS),
    ]) {
      expect(question).toMatch(/^(Is|Do|Did|Has|Have|Were) .*\?$/);
      expect(short).not.toMatch(/[.?]/);
    }
  });
});
