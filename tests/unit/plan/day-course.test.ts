import { describe, expect, it } from 'vitest';
import {
  answeredThisMorning,
  beginDay,
  brokenOff,
  courseOf,
  dayOfToday,
  endDay,
  isMorningAfter,
  nextOf,
  OPEN_SET,
  setsDone,
  setsOfRecord,
  shortened,
  stageBefore,
  waitingMorning,
  withImpulse,
  withLastSet,
  withoutLastSet,
  withSet,
} from '../../../src/core/plan/day-course.ts';
import { currentStage, type Plan } from '../../../src/core/plan/plan.ts';
import { trainingDaySchema, type DoneSet, type TrainingDay } from '../../../src/core/plan/training-day.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';

const plan = inventedPlan();
const [hold] = currentStage(plan).exercises;
if (hold === undefined) throw new Error('The plan that stands ready begins with no exercise.');
const RECORD = 'c4a9e6d2-58b1-4f37-9d0e-71b3f2a8c590';
const START = '2026-03-02T18:00:00+01:00';
const fresh = beginDay(plan, RECORD, START);

function withSets(day: TrainingDay, count: number, recordId: string | null = null): TrainingDay {
  const of = { exerciseKey: hold?.key ?? '', exercise: 'hold', recordId } as const;
  return Array.from({ length: count }).reduce<TrainingDay>((before) => withSet(before, of, OPEN_SET), day);
}

describe('a training day', () => {
  it('begins as one that the schema takes, of the plan’s version and stage', () => {
    expect(trainingDaySchema.parse(fresh)).toEqual(fresh);
    expect(fresh).toMatchObject({ planId: plan.id, planVersion: plan.version, stageKey: plan.stageKey });
  });

  it('gathers the sets of one record, and begins anew with another record', () => {
    const day = withSets(withSets(withSets(fresh, 2, RECORD), 1, plan.id), 1, null);
    expect(day.exercises.map(({ recordId, sets }) => [recordId, sets.length])).toEqual([
      [RECORD, 2],
      [plan.id, 1],
      [null, 1],
    ]);
    expect(setsDone(day, hold.key)).toHaveLength(4);
    expect(setsOfRecord(day, RECORD)).toBe(2);
    expect(trainingDaySchema.safeParse(day).success).toBe(true);
  });

  it('changes only the set that was done last, and lets go of it', () => {
    const day = withLastSet(withSets(fresh, 2), { painAfter: 4 });
    expect(setsDone(day, hold.key).map(({ painAfter }) => painAfter)).toEqual([null, 4]);
    expect(setsDone(withoutLastSet(day), hold.key)).toHaveLength(1);
    expect(withoutLastSet(withSets(fresh, 1)).exercises).toEqual([]);
    expect(() => withLastSet(fresh, { effort: 3 })).toThrow('no set was done');
    expect(() => withoutLastSet(fresh)).toThrow('no set was done');
  });

  it('takes an impulse up for the very set that it was worked out from', () => {
    const measured = dayOn(plan, '03-02').exercises[0]?.sets[0]?.measured ?? null;
    if (measured === null) throw new Error('nothing measured');
    const of = { exerciseKey: hold.key, exercise: 'hold', recordId: RECORD } as const;
    const other = { ...OPEN_SET, measured: { ...measured } };
    const day = withSet(withSet(fresh, of, { ...OPEN_SET, measured }), of, other);
    const impulse = { value: 900, least: 0, most: 1200 };
    expect(
      setsDone(withImpulse(day, measured, impulse), hold.key).map((set) => set.measured?.elbowImpulseNms),
    ).toEqual([impulse, null]);
  });
});

describe('what comes next', () => {
  it('is the first exercise with sets left, until all are done', () => {
    expect(nextOf(courseOf(plan, null))?.planned.key).toBe(hold.key);
    const begun = courseOf(plan, withSets(fresh, hold.dose.sets - 1));
    expect(nextOf(begun)?.planned.key).toBe(hold.key);
    const done = courseOf(plan, withSets(fresh, hold.dose.sets));
    expect(done[0]?.state).toBe('done');
    expect(nextOf(done)?.planned.key).not.toBe(hold.key);
  });

  it('is never an exercise that was ended for pain, and a choice to go on opens it again', () => {
    const ended = withLastSet(withSets(fresh, 1), { painOffer: 'end-set' });
    expect(courseOf(plan, ended)[0]?.state).toBe('ended');
    expect(nextOf(courseOf(plan, ended))?.planned.key).not.toBe(hold.key);
    const wentOn = withLastSet(ended, { painOffer: 'went-on' });
    expect(courseOf(plan, wentOn)[0]?.state).toBe('open');
  });

  it('is no hold while a question before the plan waits for the therapist', () => {
    const asked = { answeredAt: plan.writtenAt, yes: ['hernia'] } as const;
    const waiting: Plan = { ...plan, screening: { ...asked, yes: [...asked.yes] } };
    const course = courseOf(waiting, fresh);
    expect(course[0]?.clearance).toMatchObject({ mayStart: false, because: 'waits-for-therapist' });
    expect(nextOf(course)?.planned.key).not.toBe(hold.key);
    expect(nextOf(courseOf({ ...plan, screening: null }, fresh))?.planned.key).not.toBe(hold.key);
  });
});

describe('less after pain', () => {
  const offered = (painOffer: DoneSet['painOffer']): TrainingDay =>
    withLastSet(withSets(fresh, 1), { painOffer });

  it('asks for half from the next set on, and never for less than a dose may ask', () => {
    if (hold.dose.kind !== 'hold') throw new Error('no hold');
    expect(courseOf(plan, fresh)[0]?.dose).toEqual(hold.dose);
    expect(courseOf(plan, offered('shorten'))[0]?.dose).toEqual({
      ...hold.dose,
      holdSeconds: hold.dose.holdSeconds / 2,
    });
    expect(shortened({ ...hold.dose, holdSeconds: 5 })).toMatchObject({ holdSeconds: 3 });
    const one = { kind: 'repetitions', repetitions: 1, bendingSeconds: 3, loweringSeconds: 3 } as const;
    expect(shortened({ ...one, sets: 3, restSeconds: 60, daysAWeek: 3 })).toMatchObject({ repetitions: 1 });
  });

  it('steps down to the same exercise of the stage before, where there is one', () => {
    const easier = {
      ...hold,
      key: 'easier',
      dose: { ...hold.dose, sets: 4, holdSeconds: 12 },
    } as typeof hold;
    const before = { key: 'before', name: 'Before', exercises: [easier] };
    const longer = nextVersion(plan, { stages: [before, ...plan.stages] }, '2026-03-02T09:00:00+01:00');
    expect(stageBefore(longer, hold)?.key).toBe('easier');
    expect(courseOf(longer, offered('step-down'))[0]?.dose).toMatchObject({
      holdSeconds: 12,
      sets: hold.dose.sets,
    });
    expect(stageBefore(plan, hold)).toBeNull();
    expect(courseOf(plan, offered('step-down'))[0]?.dose).toEqual(hold.dose);
  });
});

describe('the end of a day', () => {
  const all = currentStage(plan).exercises.reduce<TrainingDay>(
    (day, { key: exerciseKey, exercise, dose }) =>
      Array.from({ length: dose.sets }).reduce<TrainingDay>(
        (before) => withSet(before, { exerciseKey, exercise, recordId: null }, OPEN_SET),
        day,
      ),
    fresh,
  );

  it.each([
    ['done', all],
    ['stopped', withSets(fresh, 1)],
    ['pain', withLastSet(withSets(fresh, 1), { painOffer: 'end-set' })],
  ] as const)('is told as %s', (because, day) => {
    expect(endDay(day, plan, '2026-03-02T19:00:00+01:00')).toMatchObject({
      endedBecause: because,
      endedAt: '2026-03-02T19:00:00+01:00',
    });
  });
});

describe('days and mornings', () => {
  const monday = dayOn(plan, '03-02', { morning: null });
  const tuesday = '2026-03-03T06:30:00+01:00';

  it('knows today by the person’s own calendar, late in the evening as well', () => {
    const late = { ...fresh, startedAt: '2026-03-02T23:50:00+01:00' };
    expect(dayOfToday([late], '2026-03-02T23:59:00+01:00')).toBe(late);
    expect(dayOfToday([late], '2026-03-03T00:01:00+01:00')).toBeNull();
  });

  it('closes what broke off on an earlier date, and keeps its answers', () => {
    const open = withSets({ ...fresh, painBefore: 3 }, 1);
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
