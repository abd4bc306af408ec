import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgedSentences, needSentence } from '../../../src/core/feedback/need-words.ts';
import type { Decision } from '../../../src/core/plan/decision.ts';
import { judgedFaults } from '../../../src/core/review/faults.ts';
import { byNeed, needsOf, urgencyOf } from '../../../src/core/review/needs.ts';
import { peopleOf, type CameIn, type Person, type PlanFacts } from '../../../src/core/review/people.ts';
import { listedFacts } from '../../../src/core/session/session-listing.ts';
import type { SetSummary } from '../../../src/core/session/summary.ts';
import type { Exercise } from '../../../src/core/exercises/exercise.ts';
import { dayOn, inventedPlan, nextVersion, type DayAnswers } from '../../helpers/plan-days.ts';
import { sampleHeader } from '../session/sample-session.ts';

const NOW = '2026-03-10T09:00:00+01:00';
const SESSION = '00000000-0000-4000-9000-000000000001';
const plan = inventedPlan();

function factsOf(days: Readonly<Record<string, DayAnswers>>, decisions: readonly Decision[] = []): PlanFacts {
  const trained = Object.entries(days).map(([date, answers]) => dayOn(plan, date, answers));
  return { planId: plan.id, versions: [plan], days: trained, decisions };
}

function personOf(facts: PlanFacts, sessions: readonly CameIn[] = []): Person {
  const [person] = peopleOf([facts], sessions);
  if (person === undefined) throw new Error('No person.');
  return person;
}

function stayOn(decidedAt: string): Decision {
  return {
    id: '22222222-2222-4222-8222-222222222222',
    planId: plan.id,
    planVersion: 1,
    newPlanVersion: null,
    decidedAt,
    proposal: null,
    direction: 'stay',
    reason: 'Test.',
  };
}

/** A session of the plan with figures of which only those that differ from a faultless one are given. */
function sessionOf(
  exercise: Exercise,
  figures: Partial<SetSummary>,
  {
    createdAt = '2026-03-09T18:05:00+01:00',
    signedAt = null as string | null,
    id = SESSION,
    alone = false,
  } = {},
): CameIn {
  const header = sampleHeader(exercise);
  const followed = {
    planId: plan.id,
    planVersion: 1,
    stageKey: plan.stageKey,
    exerciseKey: 'hold',
    dayId: '00000000-0000-4000-8000-000000000009',
  };
  const facts = listedFacts({ ...header, id, createdAt, plan: alone ? null : followed }, []);
  return {
    listing: {
      ...facts,
      whole: { ...facts.whole, totalSeconds: 60, measuredShare: 1, ...figures },
      state: 'finished',
      cutOffSeconds: 0,
    },
    signedAt,
  };
}

const kindsOf = (person: Person): string[] => needsOf(person, NOW).map(({ kind }) => kind);

describe('what asks for a look', () => {
  it('is a yes before a session, until a decision or a newer version of the plan', () => {
    const days: Record<string, DayAnswers> = { '03-04': { safetyYes: ['pop', 'bruising'] } };
    const [need] = needsOf(personOf(factsOf(days)), NOW);
    expect(need?.kind).toBe('red-flag');
    expect(need && needSentence(need)).toContain('Wed 4 March: a pop and bruising');
    expect(kindsOf(personOf(factsOf(days, [stayOn('2026-03-05T09:00:00+01:00')])))).not.toContain('red-flag');
    expect(kindsOf(personOf(factsOf(days, [stayOn('2026-03-04T09:00:00+01:00')])))).toContain('red-flag');
    const newer = nextVersion(plan, {}, '2026-03-05T09:00:00+01:00');
    expect(kindsOf(personOf({ ...factsOf(days), versions: [plan, newer] }))).not.toContain('red-flag');
  });

  it('is pain above the ceiling since the last decision, with the ratings', () => {
    const days = { '03-06': { painAfter: 4, morning: 5 } };
    const [need] = needsOf(personOf(factsOf(days)), NOW);
    expect(need?.kind).toBe('pain');
    expect(need && needSentence(need)).toBe(
      'Pain on Fri 6 March (4 in the session, ceiling 2; 5 the next morning, ceiling 2).',
    );
    expect(kindsOf(personOf(factsOf(days, [stayOn('2026-03-07T09:00:00+01:00')])))).not.toContain('pain');
  });

  it('is missed days of the last whole week', () => {
    const need = needsOf(personOf(factsOf({ '03-02': {} })), NOW).find(({ kind }) => kind === 'missed');
    expect(need && needSentence(need)).toBe(
      'In the week of Mon 2 March, 1 of 3 asked training days were done.',
    );
    const all = factsOf({ '03-02': {}, '03-04': {}, '03-06': {} });
    expect(kindsOf(personOf(all))).not.toContain('missed');
  });

  it('is a hand that rose and shoulder-led repetitions beyond the allowed share, until it is signed or decided', () => {
    const figures = { repetitions: 8, judgedRepetitions: 8, shoulderDominantRepetitions: 3 };
    const led = sessionOf('body-curl', figures);
    const quiet = { '03-02': {}, '03-04': {}, '03-06': {} };
    const [need] = needsOf(personOf(factsOf(quiet), [led]), NOW);
    expect(need && needSentence(need)).toBe(
      '3 of 8 judged repetitions of the body-moving curl were shoulder-led, Mon 9 March.',
    );
    // 0.2 of 8 are allowed by the plan: one repetition is within.
    const within = sessionOf('body-curl', { ...figures, shoulderDominantRepetitions: 1 });
    expect(kindsOf(personOf(factsOf(quiet), [within]))).not.toContain('shoulder-led');
    const signed = sessionOf('body-curl', figures, { signedAt: NOW });
    expect(kindsOf(personOf(factsOf(quiet), [signed]))).not.toContain('shoulder-led');
    const decided = factsOf(quiet, [stayOn('2026-03-09T20:00:00+01:00')]);
    expect(kindsOf(personOf(decided, [led]))).toEqual(['not-signed']);
    const rose = sessionOf('hold', { holds: 3, flagged: { 'hand-rising': 2 } });
    expect(kindsOf(personOf(factsOf(quiet), [rose]))[0]).toBe('hand-rose');
  });

  it('is still said of the session once it is signed, as what the program judged', () => {
    const figures = { repetitions: 8, judgedRepetitions: 8, shoulderDominantRepetitions: 3 };
    const faults = judgedFaults(sessionOf('body-curl', figures).listing, plan.progressRules);
    expect(judgedSentences(faults, false)).toEqual([
      '3 of 8 judged repetitions of the body-moving curl were shoulder-led.',
    ]);
    expect(judgedSentences(faults, true)).toEqual([
      'As the program judged it, before the review: 3 of 8 judged repetitions of the body-moving curl were shoulder-led.',
    ]);
  });

  it('is a missing signature where the therapist works, and never on the machine where the plan is followed', () => {
    const facts = factsOf({ '03-02': {}, '03-04': {}, '03-06': {} }, [stayOn('2026-03-09T20:00:00+01:00')]);
    const came = [sessionOf('body-curl', { repetitions: 8 })];
    const needsWhere = (followed: string | null): string[] =>
      peopleOf([facts], came, followed).flatMap((person) => kindsOf(person));
    expect(needsWhere(null)).toEqual(['not-signed']);
    expect(needsWhere('another plan')).toEqual(['not-signed']);
    expect(needsWhere(facts.planId)).toEqual([]);
  });

  it('is what a training day keeps of a session whose record did not come', () => {
    expect(kindsOf(personOf(factsOf({ '03-09': { handRose: 0.3 } })))).toContain('hand-rose');
    expect(kindsOf(personOf(factsOf({ '03-09': { handRose: 0.02 } })))).not.toContain('hand-rose');
  });

  it('is a session of which little was measured, and what was noticed in at least half of it', () => {
    const low = sessionOf('free-curl', { measuredShare: 0.62, totalSeconds: 100 }, { alone: true });
    const [person] = peopleOf([], [low]);
    const [need] = needsOf(person ?? personOf(factsOf({})), NOW);
    expect(need && needSentence(need)).toBe('Only 62 % of the free curl was measured, Mon 9 March.');
    const noticed = sessionOf('free-curl', {
      repetitions: 8,
      flagged: { 'trunk-sway': 4, 'lowering-fast': 3 },
    });
    const seen = needsOf(personOf(factsOf({}), [noticed]), NOW).filter(({ kind }) => kind === 'noticed');
    expect(seen.map((each) => each.kind === 'noticed' && each.flag)).toEqual(['trunk-sway']);
  });

  it('is nothing where every session is signed and the plan asks for nothing', () => {
    const [person] = peopleOf([], [sessionOf('hold', { holds: 3 }, { alone: true, signedAt: NOW })]);
    expect(person && needsOf(person, NOW)).toEqual([]);
  });
});

const rating = fc.option(fc.integer({ min: 0, max: 10 }), { nil: null });
const dates = fc.uniqueArray(fc.constantFrom('03-02', '03-03', '03-04', '03-06', '03-07', '03-09'), {
  maxLength: 5,
});
const answers = fc.record({
  painAfter: rating,
  morning: rating,
  handRose: fc.constantFrom(0.02, 0.3),
  shoulderDominant: fc.integer({ min: 0, max: 8 }),
  safetyYes: fc.constantFrom<DayAnswers['safetyYes'][]>([], [], [], ['pop'], ['fever', 'numbness']),
});
const anyPerson = fc
  .record({
    dates,
    answers: fc.array(answers, { minLength: 5, maxLength: 5 }),
    decidedAt: fc.option(fc.constantFrom('2026-03-03T23:00:00+01:00', '2026-03-09T23:00:00+01:00'), {
      nil: null,
    }),
    sessions: fc.array(
      fc.record({
        led: fc.integer({ min: 0, max: 8 }),
        share: fc.double({ min: 0, max: 1, noNaN: true }),
        signedAt: fc.constantFrom(null, NOW),
      }),
      { maxLength: 3 },
    ),
  })
  .map(({ dates: on, answers: given, decidedAt, sessions }) => {
    const days = Object.fromEntries([...on].sort().map((date, index) => [date, given[index] ?? {}]));
    const facts = factsOf(days, decidedAt === null ? [] : [stayOn(decidedAt)]);
    const came = sessions.map(({ led, share, signedAt }, index) =>
      sessionOf(
        'body-curl',
        { repetitions: 8, judgedRepetitions: 8, shoulderDominantRepetitions: led, measuredShare: share },
        { signedAt, id: `00000000-0000-4000-9000-00000000000${index}` },
      ),
    );
    return personOf(facts, came);
  });
/** People as in a list, each under a key of their own. */
const anyList = fc
  .array(anyPerson, { minLength: 2, maxLength: 6 })
  .map((people) => people.map((person, index) => ({ ...person, key: String(index) })));

/** Told without the code under test: some yes that nothing came after. */
function hasOpenYes({ days, decisions }: Person): boolean {
  return days.some(
    ({ safetyYes, startedAt }) =>
      safetyYes.length > 0 &&
      !decisions.some(({ decidedAt }) => Date.parse(decidedAt) > Date.parse(startedAt)),
  );
}

describe('the order of the list', () => {
  it('never has anybody above an open yes but another open yes', () => {
    fc.assert(
      fc.property(anyList, (people) => {
        const yes = byNeed(people, NOW).map(({ person }) => hasOpenYes(person));
        expect(yes).toEqual([...yes].sort((a, b) => Number(b) - Number(a)));
      }),
    );
  });

  it('is the same whatever order the people came in, and loses nobody', () => {
    fc.assert(
      fc.property(anyList, fc.integer(), (people, seed) => {
        const keys = (list: readonly Person[]): string[] => byNeed(list, NOW).map(({ person }) => person.key);
        const turned = [...people].sort(
          (a, b) => ((Number(a.key) * 7 + seed) % 5) - ((Number(b.key) * 7 + seed) % 5),
        );
        expect(keys(turned)).toEqual(keys(people));
        expect([...keys(people)].sort()).toEqual(people.map(({ key }) => key).sort());
      }),
    );
  });

  it('names the needs of each person from the most urgent on, each with a sentence', () => {
    fc.assert(
      fc.property(anyPerson, (person) => {
        const needs = needsOf(person, NOW);
        const ranks = needs.map(urgencyOf);
        expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
        for (const need of needs) expect(needSentence(need)).toMatch(/^[^a-z].*[.]$/);
      }),
    );
  });

  it('keeps a yes and pain whatever is signed', () => {
    fc.assert(
      fc.property(anyPerson, (person) => {
        const signed = { ...person, sessions: person.sessions.map((each) => ({ ...each, signedAt: NOW })) };
        const safety = (each: Person): string[] =>
          kindsOf(each).filter((kind) => kind === 'red-flag' || kind === 'pain');
        expect(safety(signed)).toEqual(safety(person));
      }),
    );
  });
});
