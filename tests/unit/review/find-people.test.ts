import { describe, expect, it } from 'vitest';
import { dateWords } from '../../../src/core/feedback/date-words.ts';
import { PLANNED_EXERCISE_WORDS } from '../../../src/core/feedback/dose-words.ts';
import { findPeople, searchIndex } from '../../../src/core/review/find-people.ts';
import { peopleOf, type CameIn } from '../../../src/core/review/people.ts';
import { listedFacts } from '../../../src/core/session/session-listing.ts';
import type { Exercise } from '../../../src/core/exercises/exercise.ts';
import { dayOn, inventedPlan } from '../../helpers/plan-days.ts';
import { sampleHeader } from '../session/sample-session.ts';

const plan = inventedPlan();
const anna = {
  ...plan,
  id: '00000000-0000-4000-8000-0000000000aa',
  person: { ...plan.person, label: 'Runner 12' },
};

function session(id: string, exercise: Exercise, date: string): CameIn {
  const header = { ...sampleHeader(exercise), id, createdAt: `${date}T18:05:00+01:00` };
  return { listing: { ...listedFacts(header, []), state: 'finished', cutOffSeconds: 0 }, signedAt: null };
}

const facts = [
  { planId: plan.id, versions: [plan], days: [dayOn(plan, '03-04')], decisions: [] },
  { planId: anna.id, versions: [anna], days: [], decisions: [] },
];
const followed = {
  planId: anna.id,
  planVersion: 1,
  stageKey: 'x',
  exerciseKey: 'x',
  dayId: '00000000-0000-4000-8000-000000000009',
};
const ofAnna = ['2026-03-02', '2026-03-20'].map((date, index) => {
  const each = session(`00000000-0000-4000-9000-00000000000${index}`, 'free-curl', date);
  return { ...each, listing: { ...each.listing, plan: followed } };
});
const alone = session('00000000-0000-4000-9000-000000000009', 'hold', '2026-03-02');
const people = peopleOf(facts, [...ofAnna, alone]);
const names = {
  exercise: (exercise: keyof typeof PLANNED_EXERCISE_WORDS) => PLANNED_EXERCISE_WORDS[exercise],
  date: dateWords,
};
const index = searchIndex(people, names);

const find = (search: string): (readonly [string, number])[] =>
  findPeople(
    people.map((person) => ({ person })),
    index,
    search,
  ).map(({ person, sessions }) => [person.key, sessions.length] as const);

describe('searching people and sessions', () => {
  it('finds everybody with all sessions where nothing is asked', () => {
    expect(find('  ')).toHaveLength(3);
  });

  it('finds a label by the beginning of its words, with all sessions', () => {
    expect(find('run')).toEqual([[anna.id, 2]]);
    expect(find('12')).toEqual([[anna.id, 2]]);
  });

  it('finds an exercise and a date in one session only', () => {
    expect(find('free curl 2 march')).toEqual([[anna.id, 1]]);
    expect(find('hold 2 march 2026')).toEqual([[alone.listing.id, 1]]);
    expect(find('hold 20 march')).toEqual([]);
  });

  it('finds a date as a computer writes it, a whole month of it too', () => {
    expect(find('2026-03-20')).toEqual([[anna.id, 1]]);
    expect(find('runner 2026-03')).toEqual([[anna.id, 2]]);
  });

  it('finds a training day whose record did not come', () => {
    expect(find('4 march')).toEqual([[plan.id, 0]]);
  });
});
