import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { askedAgainstDone, askedSets } from '../../../src/core/plan/asked-done.ts';
import { dateOf, dayOf, instantSeconds, mondayOf } from '../../../src/core/plan/calendar.ts';
import { beginDay } from '../../../src/core/plan/day-turns.ts';
import { exercisesToday, weekView } from '../../../src/core/plan/weeks.ts';
import { dateWords } from '../../../src/core/feedback/date-words.ts';
import { dayOn, inventedPlan, nextVersion, PLAN_ID } from '../../helpers/plan-days.ts';

const plan = inventedPlan();
const [hold] = plan.stages[0]?.exercises ?? [];
if (!hold) throw new Error('The plan that stands ready has changed.');

describe('days of the calendar', () => {
  it('are those of the platform’s own calendar', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('1600-01-01'), max: new Date('2400-01-01'), noInvalidDate: true }),
        (date) => {
          const text = date.toISOString();
          expect(dayOf(text)).toBe(Math.floor(date.getTime() / 86_400_000));
          expect(instantSeconds(text)).toBe(Math.floor(date.getTime() / 1000));
          const { year, month, day } = dateOf(dayOf(text));
          expect([year, month, day]).toEqual([
            date.getUTCFullYear(),
            date.getUTCMonth() + 1,
            date.getUTCDate(),
          ]);
          const monday = mondayOf(dayOf(text));
          expect(new Date(monday * 86_400_000).getUTCDay()).toBe(1);
          expect(dayOf(text) - monday).toBeLessThan(7);
        },
      ),
    );
  });

  it('are the person’s own, whatever the zone', () => {
    expect(dateOf(dayOf('2026-03-02T23:30:00-09:00'))).toEqual({ year: 2026, month: 3, day: 2 });
    expect(instantSeconds('2026-03-02T23:30:00-09:00')).toBe(Date.parse('2026-03-03T08:30:00Z') / 1000);
    expect(dateWords(dayOf('2024-02-29T12:00:00Z'))).toBe('Thu 29 February');
    expect(() => dayOf('2026-03-02')).toThrow('no moment');
  });
});

describe('asked against done', () => {
  it('sets are asked one by one, the easier ones first', () => {
    expect(askedSets(hold).map(({ amount, isEasier }) => [amount, isEasier])).toEqual([
      [30, true],
      [30, true],
      [30, false],
      [30, false],
      [30, false],
    ]);
  });

  it('everything done is the whole dose', () => {
    const { share, exercises, besides } = askedAgainstDone(plan, dayOn(plan, '03-02'));
    expect(share).toBe(1);
    expect(exercises[0]?.sets.map(({ doneAmount, isMeasured }) => [doneAmount, isMeasured])).toEqual(
      Array.from({ length: 5 }, () => [30, true]),
    );
    expect(besides).toEqual([]);
  });

  it('a set that was left out is missing, and what one has too much does not stand in for it', () => {
    const day = dayOn(plan, '03-02', { done: 2 });
    const [done] = day.exercises;
    if (!done) throw new Error('Nothing was done.');
    const fewer = { ...day, exercises: [{ ...done, sets: done.sets.slice(0, 4) }] };
    const against = askedAgainstDone(plan, fewer);
    expect(against.share).toBe(0.8);
    expect(against.exercises[0]?.sets[4]).toMatchObject({ setNumber: 5, done: null, doneAmount: null });
    const more = { ...day, exercises: [{ ...done, sets: [...done.sets, ...done.sets.slice(0, 1)] }] };
    expect(askedAgainstDone(plan, more).share).toBe(1);
    expect(askedAgainstDone(plan, more).exercises[0]?.sets[5]).toMatchObject({ setNumber: 6, asked: null });
  });

  it('a set of which nobody knows how much it was leaves the share unknown, and what was said counts', () => {
    const day = dayOn(plan, '03-02', { measuredHold: { heldSeconds: null } });
    expect(askedAgainstDone(plan, day).share).toBeNull();
    const said = day.exercises.map((done) => ({
      ...done,
      sets: done.sets.map((set) => ({ ...set, saidDone: { holdSeconds: 15, repetitions: null } })),
    }));
    expect(askedAgainstDone(plan, { ...day, exercises: said }).share).toBe(0.5);
  });

  it('what was not begun counts as not done', () => {
    const curls = nextVersion(plan, { stageKey: 'body-curl' }, '2026-03-01T11:00:00+01:00');
    const day = dayOn(curls, '03-02');
    expect(askedAgainstDone(curls, { ...day, exercises: day.exercises.slice(0, 1) }).share).toBe(0.5);
    expect(askedAgainstDone(curls, { ...day, exercises: [] }).share).toBe(0);
  });

  it('an exercise that is asked on fewer days counts only where it was begun', () => {
    const rows = nextVersion(plan, { stageKey: 'rows' }, '2026-03-01T11:00:00+01:00');
    const day = dayOn(rows, '03-02');
    expect(rows.stages[5]?.exercises.map(({ dose }) => dose.daysAWeek)).toEqual([3, 2]);
    expect(askedAgainstDone(rows, { ...day, exercises: day.exercises.slice(0, 1) }).share).toBe(1);
  });

  it('what was done without being asked is shown apart', () => {
    const curls = nextVersion(plan, { stageKey: 'body-curl' }, '2026-03-01T11:00:00+01:00');
    const day = { ...dayOn(plan, '03-02'), stageKey: 'body-curl' };
    expect(askedAgainstDone(curls, day).besides.map(({ exerciseKey }) => exerciseKey)).toEqual(['hold']);
  });
});

describe('weeks', () => {
  const days = [
    dayOn(plan, '03-02'),
    dayOn(plan, '03-04', { done: 0.5 }),
    dayOn(plan, '03-06', { safetyYes: ['fever'] }),
  ];

  it('show asked, done and missed days, and a week that goes on misses none', () => {
    const weeks = weekView([plan], days, '2026-03-11T12:00:00+01:00');
    expect(weeks.map(({ askedDays, doneDays, missedDays }) => [askedDays, doneDays, missedDays])).toEqual([
      // Written on a Sunday: nothing of that week's three days was left to be asked.
      [0, 0, 0],
      [3, 1, 2],
      [3, 0, null],
    ]);
    expect(weeks[1]?.days.map(({ status }) => status)).toEqual([
      'done',
      'none',
      'partly',
      'none',
      'not-started',
      'none',
      'none',
    ]);
    expect(weeks[0]?.days.map(({ status }) => status).slice(4)).toEqual([
      'before-plan',
      'before-plan',
      'none',
    ]);
    expect(weeks[2]?.days.at(-1)?.status).toBe('ahead');
  });

  it('ask what the version asked that was in force at their end', () => {
    const chinUps = nextVersion(plan, { stageKey: 'chin-ups' }, '2026-03-10T11:00:00+01:00');
    const asked = weekView([chinUps, plan], [], '2026-03-20T12:00:00+01:00').map(
      ({ askedDays }) => askedDays,
    );
    expect(asked).toEqual([0, 3, 2, 2]);
  });

  it('tell which exercises are still asked this week', () => {
    const rows = nextVersion(plan, { stageKey: 'rows' }, '2026-03-01T11:00:00+01:00');
    const [monday, tuesday] = [dayOn(rows, '03-02'), dayOn(rows, '03-03')];
    const done = [tuesday, monday];
    const on = (date: string): unknown =>
      exercisesToday(rows, done, beginDay(rows, PLAN_ID, `2026-${date}T18:00:00+01:00`)).map((due) =>
        'doneOn' in due ? due.doneOn.map((day) => dateOf(day).day) : due.isAsked,
      );
    expect(exercisesToday(rows, done, tuesday).map(({ isAsked }) => isAsked)).toEqual([true, true]);
    expect(on('03-05')).toEqual([true, [2, 3]]);
    expect(on('03-09')).toEqual([true, true]);
  });
});
