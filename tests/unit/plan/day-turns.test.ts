import { describe, expect, it } from 'vitest';
import { OPEN_SET, withSet } from '../../../src/core/plan/day-course.ts';
import {
  answeredThisMorning,
  beginDay,
  brokenOff,
  carriedOn,
  dayOfToday,
  isMorningAfter,
  waitingMorning,
  withSafetyAnswers,
} from '../../../src/core/plan/day-turns.ts';
import { maySessionStart } from '../../../src/core/plan/may-start.ts';
import { currentStage } from '../../../src/core/plan/plan.ts';
import { trainingDaySchema } from '../../../src/core/plan/training-day.ts';
import { exercisesToday, weekView } from '../../../src/core/plan/weeks.ts';
import { notAskedSentence } from '../../../src/core/feedback/due-words.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';

const plan = inventedPlan();
const [hold] = currentStage(plan).exercises;
if (hold === undefined) throw new Error('The plan that stands ready begins with no exercise.');
const ID = 'c4a9e6d2-58b1-4f37-9d0e-71b3f2a8c590';
const START = '2026-03-02T18:00:00+01:00';
const LATER = '2026-03-02T20:00:00+01:00';
const fresh = beginDay(plan, ID, START);
const begun = withSet(fresh, { exerciseKey: hold.key, exercise: 'hold', recordId: null }, OPEN_SET);
const NOTHING_SINCE = { versions: [plan], decisions: [] };
const newer = nextVersion(plan, {}, '2026-03-02T19:00:00+01:00', 'Looked at the arm.');

describe('the questions before a session', () => {
  it('with no to all of them let the day go on', () => {
    const day = withSafetyAnswers(fresh, [], START);
    expect(day).toEqual({ ...fresh, safetyAnsweredAt: START });
    expect(maySessionStart(day, { ...NOTHING_SINCE, days: [day] })).toEqual({ mayStart: true });
  });

  it('with a yes end it before it began, and a no afterwards takes nothing back', () => {
    const day = withSafetyAnswers(fresh, ['pop'], START);
    expect(day).toMatchObject({ safetyYes: ['pop'], endedAt: START, endedBecause: 'safety' });
    expect(trainingDaySchema.parse(day)).toEqual(day);
    expect(withSafetyAnswers(day, [], LATER)).toMatchObject({ safetyYes: ['pop'], endedBecause: 'safety' });
    expect(withSafetyAnswers(day, ['fever', 'pop'], LATER).safetyYes).toEqual(['pop', 'fever']);
  });

  it('are asked anew on the same date once the therapist has dealt with a yes, and not before', () => {
    const day = withSafetyAnswers(fresh, ['pop'], START);
    const past = { days: [day], versions: [plan, newer], decisions: [] };
    expect(dayOfToday([day], LATER, NOTHING_SINCE)).toBe(day);
    expect(dayOfToday([day], LATER, past)).toBeNull();
    const asked = { safetyYes: [], safetyAnsweredAt: null };
    expect(maySessionStart(asked, { ...past, versions: [plan] })).toMatchObject({
      because: 'waits-for-therapist',
    });
    expect(maySessionStart(asked, past)).toEqual({ mayStart: false, because: 'not-asked' });
  });

  it('wait by the moment of the answer, not of the day’s beginning', () => {
    const between = withSafetyAnswers(fresh, ['pop'], LATER);
    const past = { days: [between], versions: [plan, newer], decisions: [] };
    expect(maySessionStart({ safetyYes: [], safetyAnsweredAt: null }, past)).toMatchObject({
      because: 'waits-for-therapist',
    });
  });
});

describe('a newer version of the plan in the middle of a day', () => {
  it('goes on with the day where nothing was done yet', () => {
    const { changed, today } = carriedOn(fresh, newer, LATER);
    expect(today).toEqual({ ...fresh, planVersion: newer.version, stageKey: newer.stageKey });
    expect(changed).toEqual(today);
  });

  it('closes a begun day, which is told from one that the person stopped, and begins another', () => {
    const { changed, today } = carriedOn(begun, newer, LATER);
    expect(today).toBeNull();
    expect(changed).toEqual({ ...begun, endedAt: LATER, endedBecause: 'newer-plan' });
    expect(trainingDaySchema.parse(changed)).toEqual(changed);
    expect(dayOfToday(changed === null ? [] : [changed], LATER, NOTHING_SINCE)).toBeNull();
    const stopped = { ...begun, endedAt: LATER, endedBecause: 'stopped' } as const;
    expect(dayOfToday([stopped], LATER, NOTHING_SINCE)).toBe(stopped);
    expect(carriedOn(stopped, newer, LATER)).toEqual({ changed: null, today: stopped });
  });

  it('leaves a day of the version that is followed as it is', () => {
    expect(carriedOn(begun, plan, LATER)).toEqual({ changed: null, today: begun });
  });

  it('is one day of the week: not counted twice, and done with both parts together', () => {
    const whole = dayOn(plan, '03-02');
    const exercises = whole.exercises.map((done) => ({ ...done, sets: done.sets.slice(0, 3) }));
    const rest = whole.exercises.map((done) => ({ ...done, sets: done.sets.slice(3) }));
    const first = { ...whole, exercises, endedBecause: 'newer-plan' } as const;
    const again = { id: ID, planVersion: newer.version, startedAt: LATER };
    const parts = [first, { ...whole, ...again, exercises: rest }];
    const seen = (days: typeof parts | (typeof whole)[]): unknown =>
      weekView([plan, newer], days, '2026-03-04T12:00:00+01:00').map(
        ({ doneDays, days: [, monday, tuesday] }) => [doneDays, monday?.status, tuesday?.status],
      );
    const [, of] = weekView([plan, newer], parts, '2026-03-04T12:00:00+01:00');
    expect(of?.days.map(({ trainingDays }) => trainingDays.length)).toEqual([2, 0, 0, 0, 0, 0, 0]);
    expect(of).toMatchObject({ doneDays: 1 });
    expect(of?.days[0]?.status).toBe('done');
    expect(seen(parts)).toEqual(seen([whole]));
    const bothWhole = [
      { ...whole, endedBecause: 'newer-plan' as const },
      { ...whole, ...again },
    ];
    expect(weekView([plan, newer], bothWhole, '2026-03-04T12:00:00+01:00')[1]).toMatchObject({ doneDays: 1 });
    expect(weekView([plan, newer], [first], '2026-03-04T12:00:00+01:00')[1]).toMatchObject({ doneDays: 0 });
  });

  it('asks for nothing a second time on the same date', () => {
    const closed = dayOn(plan, '03-02');
    const next = { id: ID, startedAt: LATER };
    const [due] = exercisesToday(newer, [closed], next);
    expect(due).toEqual({ isAsked: false, because: 'done-today' });
    expect(due && notAskedSentence(due, hold.dose)).toContain('earlier, before your plan was changed');
    expect(exercisesToday(newer, [closed], closed)[0]).toEqual({ isAsked: true });
  });
});

describe('days and mornings', () => {
  const monday = dayOn(plan, '03-02', { morning: null });
  const tuesday = '2026-03-03T06:30:00+01:00';

  it('knows today by the person’s own calendar, late in the evening as well', () => {
    const late = { ...fresh, startedAt: '2026-03-02T23:50:00+01:00' };
    expect(dayOfToday([late], '2026-03-02T23:59:00+01:00', NOTHING_SINCE)).toBe(late);
    expect(dayOfToday([late], '2026-03-03T00:01:00+01:00', NOTHING_SINCE)).toBeNull();
  });

  it('closes what broke off on an earlier date, and keeps its answers', () => {
    const open = { ...begun, painBefore: 3 };
    const [closed, ...others] = brokenOff([open, monday], tuesday);
    expect(others).toEqual([]);
    expect(closed).toEqual({ ...open, endedBecause: 'broken-off' });
    expect(brokenOff([open], '2026-03-02T22:00:00+01:00')).toEqual([]);
  });

  it('asks on the next morning, once, and of a day on which something was done', () => {
    expect(waitingMorning([monday], '2026-03-02T22:00:00+01:00')).toBeNull();
    expect(waitingMorning([monday], tuesday)).toBe(monday);
    expect(isMorningAfter(monday, tuesday)).toBe(true);
    expect(isMorningAfter(monday, '2026-03-05T07:00:00+01:00')).toBe(false);
    const answered = dayOn(plan, '03-02', { morning: 2 });
    expect(waitingMorning([answered], tuesday)).toBeNull();
    expect(answeredThisMorning([answered], '2026-03-03T20:00:00+01:00')).toBe(answered);
    expect(answeredThisMorning([answered], '2026-03-04T08:00:00+01:00')).toBeNull();
    const refused = dayOn(plan, '03-02', { safetyYes: ['pop'] });
    expect(waitingMorning([refused], tuesday)).toBeNull();
  });
});
