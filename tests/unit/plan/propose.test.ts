import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { HARDEST_WORDS } from '../../../src/core/feedback/answer-words.ts';
import { propose } from '../../../src/core/feedback/propose.ts';
import { calculatedHardest } from '../../../src/core/plan/calculated-hardest.ts';
import { proposalSchema, type Proposal } from '../../../src/core/plan/decision.ts';
import { decide } from '../../../src/core/plan/decide.ts';
import type { Plan } from '../../../src/core/plan/plan.ts';
import { readPlan } from '../../../src/core/plan/read-plan.ts';
import type { HardestPlace, TrainingDay } from '../../../src/core/plan/training-day.ts';
import { dayAfter, dayOn, inventedPlan, nextVersion, type DayAnswers } from '../../helpers/plan-days.ts';
import { anyDay, anyPlan } from './any-plan.ts';

const SAMPLES = fileURLToPath(new URL('../../fixtures/plans/', import.meta.url));
const first = inventedPlan();
const RULES = { ...first.progressRules, goodDaysToAdvance: 3 };
/** The body-moving curl from 1 March on; going on after three good days, back after two bad ones or ten days off. */
const plan = nextVersion(first, { stageKey: 'body-curl', progressRules: RULES }, '2026-03-01T11:00:00+01:00');
const DATES = ['03-02', '03-04', '03-06', '03-09', '03-11', '03-13'];
const REASON = { id: '11111111-1111-4111-8111-111111111111', reason: 'Seen and asked.' };

function after(answers: readonly DayAnswers[], of: Plan = plan): Proposal {
  const days = answers.map((each, index) => dayOn(of, DATES[index] ?? '', each));
  return propose(of, days, dayAfter(DATES[answers.length - 1] ?? '03-01'), { versions: [first] });
}

function said(proposal: Proposal): string {
  return proposal.reasons.map(({ sentence }) => sentence).join(' ');
}

const GOOD = {};
const BAD_MORNING = { morning: 4 };
const BAD_SESSION = { painAfter: 4 };

describe('going on', () => {
  it('is proposed after as many good days in a row as the plan asks for, with days, numbers and source', () => {
    const proposal = after([GOOD, GOOD, GOOD]);
    expect(proposal).toMatchObject({ direction: 'advance', toStageKey: 'band-curl' });
    const [reason] = proposal.reasons;
    expect(reason?.sentence).toBe(
      '3 training days in a row (Mon 2 March to Fri 6 March) fulfilled the rules, 3 are asked for: at least 100 % of the dose, pain up to 2 in the session and up to 2 the next morning, never above the ceiling.',
    );
    expect(reason?.source).toBe('set by the therapist');
    expect(reason?.dayIds).toHaveLength(3);
  });

  it.each<[string, DayAnswers, string]>([
    ['a day with too little of the dose', { done: 0.75 }, '75 % of the dose was done, 80 % is asked for'],
    ['a bad morning', BAD_MORNING, 'pain the next morning was 4, above the ceiling of 2'],
    ['a morning that was not answered', { morning: null }, 'pain the next morning was not said'],
    [
      'ratings that were not given',
      { painAfter: null },
      'pain was not said before, after each set or at the end',
    ],
    [
      'shoulder-led curls',
      { shoulderDominant: 3 },
      '38 % of the body-moving curls were shoulder-led, up to 20 % is allowed',
    ],
    [
      'curls of which nothing could be told',
      { judged: 0 },
      'curl or row could not be told in any body-moving curl',
    ],
    ['a day that broke off', { endedBecause: 'broken-off' }, 'it was not ended'],
    ['a dose that nobody knows', { measured: { repetitions: null } }, 'how much was done is not known'],
  ])('is not proposed over %s, and the reason says so', (_, answers, words) => {
    const proposal = after([GOOD, GOOD, answers]);
    expect(proposal.direction).toBe('stay');
    expect(said(proposal)).toContain(words);
    expect(after([GOOD, answers, GOOD]).direction).toBe('stay');
  });

  it('waits for the next morning', () => {
    const days = [GOOD, GOOD, { morning: null }].map((each, index) => dayOn(plan, DATES[index] ?? '', each));
    const evening = propose(plan, days, '2026-03-06T20:00:00+01:00');
    expect(evening.direction).toBe('stay');
    expect(said(evening)).toContain('Fri 6 March is not weighed yet');
    // Four good days with the fourth one's morning ahead: last week's row does not stand in for this morning.
    const four = [
      ...DATES.slice(0, 3).map((date) => dayOn(plan, date)),
      dayOn(plan, '03-09', { morning: null }),
    ];
    expect(propose(plan, four, '2026-03-09T21:00:00+01:00').direction).toBe('stay');
  });

  it('counts anew after each decision and in each stage', () => {
    const days = DATES.slice(0, 3).map((date) => dayOn(plan, date));
    const proposal = propose(plan, days, dayAfter('03-06'));
    const stay = decide(plan, proposal, { ...REASON, direction: 'stay', moment: dayAfter('03-06') });
    if (!stay.ok) throw new Error(stay.problem.kind);
    expect(stay.decided).toMatchObject({
      plan,
      decision: { newPlanVersion: null, proposal, direction: 'stay' },
    });
    const past = { decisions: [stay.decided.decision] };
    const next = [...days, dayOn(plan, '03-09')];
    expect(propose(plan, next, dayAfter('03-09'), past).direction).toBe('stay');
    expect(said(propose(plan, next, dayAfter('03-09'), past))).toContain('1 training day in a row');
    const back = nextVersion(plan, { stageKey: 'hold' }, '2026-03-07T10:00:00+01:00');
    const again = nextVersion(back, { stageKey: 'body-curl' }, '2026-03-08T10:00:00+01:00');
    expect(propose(again, next, dayAfter('03-09'), { versions: [first, plan, back] }).direction).toBe('stay');
  });

  it('is not proposed from the last stage', () => {
    const last = nextVersion(plan, { stageKey: 'chin-ups' }, '2026-03-01T12:00:00+01:00');
    const proposal = after([GOOD, GOOD, GOOD], last);
    expect(proposal).toMatchObject({ direction: 'stay', toStageKey: 'chin-ups' });
    expect(said(proposal)).toContain('last stage');
  });
});

describe('stepping back', () => {
  it('is proposed after bad days in a row, in session or next morning', () => {
    const proposal = after([GOOD, BAD_MORNING, BAD_SESSION]);
    expect(proposal).toMatchObject({ direction: 'step-back', toStageKey: 'hold' });
    expect(proposal.reasons[0]?.sentence).toBe(
      'Pain was above the ceiling on 2 training days in a row: Wed 4 March (4 the next morning, ceiling 2) and Fri 6 March (4 in the session, ceiling 2). From 2 in a row on, the stage before is proposed.',
    );
  });

  it('is not proposed after one, nor after two with a good day between them', () => {
    expect(after([GOOD, GOOD, BAD_MORNING]).direction).toBe('stay');
    expect(after([BAD_MORNING, GOOD, BAD_MORNING]).direction).toBe('stay');
  });

  it('a day without answers between two bad ones does not end the row', () => {
    expect(after([BAD_MORNING, { morning: null, painAfter: null }, BAD_SESSION]).direction).toBe('step-back');
  });

  it('does not wait for the morning when the session was bad already', () => {
    const days = [dayOn(plan, '03-02', BAD_MORNING), dayOn(plan, '03-04', { ...BAD_SESSION, morning: null })];
    expect(propose(plan, days, '2026-03-04T20:00:00+01:00').direction).toBe('step-back');
  });

  it('is proposed after a long pause, counted in the person’s own dates', () => {
    const days = [dayOn(plan, '03-06')];
    expect(propose(plan, days, '2026-03-15T23:59:00+01:00').direction).toBe('stay');
    const proposal = propose(plan, days, '2026-03-16T00:01:00+01:00');
    expect(proposal).toMatchObject({ direction: 'step-back', toStageKey: 'hold' });
    expect(said(proposal)).toContain('No training for 10 days, since Fri 6 March');
  });

  it('from the first stage stays there and says so', () => {
    const [hold] = first.stages;
    const proposal = propose(
      first,
      [dayOn(first, '03-02', BAD_MORNING), dayOn(first, '03-04', BAD_MORNING)],
      dayAfter('03-04'),
    );
    expect(proposal).toMatchObject({ direction: 'stay', toStageKey: hold?.key });
    expect(said(proposal)).toContain('This is the first stage');
  });
});

describe('red flags', () => {
  const flagged = dayOn(plan, '03-09', { safetyYes: ['pop', 'bruising'] });
  const days = [...DATES.slice(0, 3).map((date) => dayOn(plan, date)), flagged];

  it('come before everything else, and stay until a therapist has decided', () => {
    for (const date of ['03-09', '03-11', '03-25']) {
      const proposal = propose(plan, days, dayAfter(date));
      expect(proposal.direction).toBe('seek-care');
      expect(said(proposal)).toContain('Mon 9 March: a pop and bruising');
      expect(proposal.reasons[0]?.dayIds).toEqual([flagged.id]);
    }
    const decided = decide(plan, null, { ...REASON, direction: 'stay', moment: '2026-03-11T09:00:00+01:00' });
    if (!decided.ok) throw new Error(decided.problem.kind);
    const decisions = [decided.decided.decision];
    expect(propose(plan, days, dayAfter('03-11'), { decisions }).direction).toBe('stay');
  });
});

describe('what is told beside the rules', () => {
  it('a hand that rose in a hold, to the therapist only, with the choices', () => {
    const proposal = after([{ handRose: 0.15 }]);
    const note = proposal.reasons.find(({ sentence }) => sentence.includes('the hand rose'));
    expect(note?.sentence).toContain('0.15 upper-arm lengths; 0.12 counts as the bar lifting');
    expect(note?.sentence).toContain('only told to ease off');
    expect(note?.reader).toBe('therapist');
    const file = readPlan(readFileSync(`${SAMPLES}v1-all-equipment.plan.json`, 'utf8'));
    if (!file.ok) throw new Error(file.problem.kind);
    const described = propose(file.plan, [dayOn(file.plan, '03-02', { handRose: 0.15 })], dayAfter('03-02'));
    expect(said(described)).toMatch(/an estimate of \d+ N at each hand, was reached/);
    expect(said(after([{ handRose: 0.11 }]))).not.toContain('the hand rose');
  });

  it('where a band was hardest as felt, beside where it is by calculation', () => {
    const file = readPlan(readFileSync(`${SAMPLES}v1-all-equipment.plan.json`, 'utf8'));
    if (!file.ok) throw new Error(file.problem.kind);
    const described = nextVersion(file.plan, { stageKey: 'band-curl' }, '2026-03-01T12:00:00+01:00');
    const calculated = calculatedHardest(described)['band-curl-supinated'];
    if (!calculated) throw new Error('Nothing was calculated.');
    const other = calculated === 'bent' ? 'straight' : 'bent';
    const told = (felt: HardestPlace, of = described): string =>
      said(propose(of, [dayOn(of, '03-02', { hardest: felt })], dayAfter('03-02')));
    expect(told(other)).toContain(
      `(3 of 3 answers); by calculation it is hardest ${HARDEST_WORDS[calculated]}.`,
    );
    expect(told(calculated)).toContain(`by calculation too it is hardest ${HARDEST_WORDS[calculated]}`);
    const bare = nextVersion(plan, { stageKey: 'band-curl' }, '2026-03-01T12:00:00+01:00');
    expect(told('bent', bare)).toContain('the equipment is not described');
  });

  it('days that were asked and not done in the week before', () => {
    const days = [dayOn(plan, '03-02'), dayOn(plan, '03-04')];
    expect(said(propose(plan, days, '2026-03-09T08:00:00+01:00'))).toContain(
      'In the week of Mon 2 March, 2 of 3 asked training days were done.',
    );
  });

  it('nothing where there is no training day yet', () => {
    const proposal = propose(plan, [], '2026-03-02T08:00:00+01:00');
    expect(proposal).toMatchObject({ direction: 'stay', toStageKey: 'body-curl' });
    expect(said(proposal)).toContain('no training day to weigh yet');
  });
});

describe('for any plan and any days', () => {
  it('every proposal is one by its schema, leads one stage on or back, and can be said', () => {
    fc.assert(
      fc.property(anyPlan, fc.array(anyDay, { maxLength: 8 }), (any, list) => {
        const days: TrainingDay[] = list.map((day) => ({ ...day, planId: any.id }));
        const proposal = propose(any, days, '2040-01-01T12:00:00Z', { versions: [any] });
        expect(proposalSchema.parse(proposal)).toEqual(proposal);
        const place = (key: string): number => any.stages.findIndex((stage) => stage.key === key);
        const step = { advance: 1, stay: 0, 'step-back': -1, 'seek-care': 0 }[proposal.direction];
        expect(place(proposal.toStageKey) - place(any.stageKey)).toBe(step);
        expect(said(proposal)).not.toMatch(/undefined|NaN|null|Infinity|\[object/);
        if (days.some(({ safetyYes }) => safetyYes.length > 0)) expect(proposal.direction).toBe('seek-care');
      }),
    );
  });

  it('an answer that is left out never turns a proposal into going on', () => {
    const ANSWERS = ['painBefore', 'painAfter', 'painAtEnd', 'morning'] as const;
    fc.assert(
      fc.property(
        fc.array(
          fc.record({ morning: fc.integer({ min: 0, max: 4 }), painAfter: fc.integer({ min: 0, max: 4 }) }),
          { minLength: 3, maxLength: 6 },
        ),
        fc.nat(5),
        fc.constantFrom(...ANSWERS),
        (answers, at, left) => {
          const fewer = answers.map((each, index) =>
            index === at % answers.length ? { ...each, [left]: null } : each,
          );
          if (after(answers).direction !== 'advance') expect(after(fewer).direction).not.toBe('advance');
        },
      ),
    );
  });
});

describe('deciding', () => {
  it('records the proposal and the reason, and leads to the next version', () => {
    const days = DATES.slice(0, 3).map((date) => dayOn(plan, date));
    const proposal = propose(plan, days, dayAfter('03-06'));
    const moment = '2026-03-07T09:00:00+01:00';
    const result = decide(plan, proposal, { ...REASON, direction: 'advance', moment });
    if (!result.ok) throw new Error(result.problem.kind);
    const { decision, plan: next } = result.decided;
    expect(next).toMatchObject({
      version: 3,
      stageKey: 'band-curl',
      writtenAt: moment,
      reason: REASON.reason,
    });
    expect(decision).toMatchObject({ planVersion: 2, newPlanVersion: 3, decidedAt: moment, proposal });
  });

  it('may go against the proposal, and may change the dose while staying', () => {
    const stages = plan.stages.slice(0, 5);
    const result = decide(plan, null, {
      ...REASON,
      direction: 'stay',
      moment: dayAfter('03-06'),
      change: { stages },
    });
    if (!result.ok) throw new Error(result.problem.kind);
    expect(result.decided.plan).toMatchObject({ version: 3, stageKey: 'body-curl', stages });
    expect(result.decided.decision.newPlanVersion).toBe(3);
  });

  it('has nowhere to go from either end', () => {
    const last = nextVersion(plan, { stageKey: 'chin-ups' }, '2026-03-01T12:00:00+01:00');
    const made = { ...REASON, moment: dayAfter('03-06') };
    expect(decide(last, null, { ...made, direction: 'advance' })).toEqual({
      ok: false,
      problem: { kind: 'no-stage' },
    });
    expect(decide(first, null, { ...made, direction: 'step-back' })).toEqual({
      ok: false,
      problem: { kind: 'no-stage' },
    });
  });
});
