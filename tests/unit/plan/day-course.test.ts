import { describe, expect, it } from 'vitest';
import { notAskedSentence } from '../../../src/core/feedback/due-words.ts';
import { askedAgainstDone } from '../../../src/core/plan/asked-done.ts';
import {
  courseOf,
  endDay,
  nextOf,
  OPEN_SET,
  setsDone,
  setsOfRecord,
  shortened,
  stageBefore,
  withImpulse,
  withLastSet,
  withoutLastSet,
  withSet,
  wentOn,
} from '../../../src/core/plan/day-course.ts';
import { beginDay } from '../../../src/core/plan/day-turns.ts';
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

  it('remembers how many sets of a record were none, and that they came from no other', () => {
    const day = withSets(withSets(fresh, 2, RECORD), 1, plan.id);
    const without = withoutLastSet(withoutLastSet(withoutLastSet(day)));
    expect(without.exercises).toEqual([]);
    expect([RECORD, plan.id].map((id) => setsOfRecord(without, id))).toEqual([2, 1]);
    expect(setsOfRecord(withSets(without, 1, RECORD), RECORD)).toBe(3);
    expect(trainingDaySchema.parse(without)).toEqual(without);
    expect(withoutLastSet(withSets(fresh, 1, null))).toEqual(fresh);
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
    expect(nextOf(courseOf(plan, null, []))?.planned.key).toBe(hold.key);
    const begun = courseOf(plan, withSets(fresh, hold.dose.sets - 1), []);
    expect(nextOf(begun)?.planned.key).toBe(hold.key);
    const done = courseOf(plan, withSets(fresh, hold.dose.sets), []);
    expect(done[0]?.state).toBe('done');
    expect(nextOf(done)?.planned.key).not.toBe(hold.key);
  });

  it('is never an exercise that was ended for pain, and a choice to go on opens it again', () => {
    const ended = withLastSet(withSets(fresh, 1), { painOffer: 'end-set' });
    expect(courseOf(plan, ended, [])[0]?.state).toBe('ended');
    expect(nextOf(courseOf(plan, ended, []))?.planned.key).not.toBe(hold.key);
    const further = wentOn(ended, hold.key);
    expect(setsDone(further, hold.key).map(({ painOffer }) => painOffer)).toEqual(['went-on']);
    expect(courseOf(plan, further, [])[0]?.state).toBe('open');
    expect(wentOn(ended, 'another')).toBe(ended);
  });

  it('is no hold while a question before the plan waits for the therapist', () => {
    const asked = { answeredAt: plan.writtenAt, yes: ['hernia'] } as const;
    const waiting: Plan = { ...plan, screening: { ...asked, yes: [...asked.yes] } };
    const course = courseOf(waiting, fresh, []);
    expect(course[0]?.clearance).toMatchObject({ mayStart: false, because: 'waits-for-therapist' });
    expect(nextOf(course)?.planned.key).not.toBe(hold.key);
    expect(nextOf(courseOf({ ...plan, screening: null }, fresh, []))?.planned.key).not.toBe(hold.key);
  });
});

describe('less after pain', () => {
  const offered = (painOffer: DoneSet['painOffer']): TrainingDay =>
    withLastSet(withSets(fresh, 1), { painOffer });

  it('asks for half from the next set on, and never for less than a dose may ask', () => {
    if (hold.dose.kind !== 'hold') throw new Error('no hold');
    expect(courseOf(plan, fresh, [])[0]?.dose).toEqual(hold.dose);
    expect(courseOf(plan, offered('shorten'), [])[0]?.dose).toEqual({
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
    expect(courseOf(longer, offered('step-down'), [])[0]?.dose).toMatchObject({
      holdSeconds: 12,
      sets: hold.dose.sets,
    });
    expect(stageBefore(plan, hold)).toBeNull();
    expect(courseOf(plan, offered('step-down'), [])[0]?.dose).toEqual(hold.dose);
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
    expect(endDay(day, plan, '2026-03-02T19:00:00+01:00', [])).toMatchObject({
      endedBecause: because,
      endedAt: '2026-03-02T19:00:00+01:00',
    });
  });
});

describe('what the week has had enough of', () => {
  const rows = nextVersion(plan, { stageKey: 'rows' }, '2026-03-01T11:00:00+01:00');
  const [often, seldom] = currentStage(rows).exercises;
  if (often === undefined || seldom === undefined) throw new Error('The plan that stands ready has changed.');
  const week = [dayOn(rows, '03-02'), dayOn(rows, '03-03')];
  const thursday = beginDay(rows, RECORD, '2026-03-05T18:00:00+01:00');
  const setsOf = (day: TrainingDay, { key: exerciseKey, exercise, dose }: typeof often): TrainingDay =>
    Array.from({ length: dose.sets }).reduce<TrainingDay>(
      (before) => withSet(before, { exerciseKey, exercise, recordId: null }, OPEN_SET),
      day,
    );
  const end = (day: TrainingDay): TrainingDay => endDay(day, rows, '2026-03-05T19:00:00+01:00', week);

  it('is the rarer exercise of a stage, and why is said', () => {
    expect(seldom.dose.daysAWeek).toBeLessThan(often.dose.daysAWeek);
    const course = courseOf(rows, thursday, week);
    expect(course.map(({ due }) => due.isAsked)).toEqual([true, false]);
    expect(course.map(({ due, dose }) => notAskedSentence(due, dose))).toEqual([
      null,
      'Not asked today: twice a week, done on Monday and Tuesday.',
    ]);
  });

  it('comes next no more, keeps no day from being done, and is remembered', () => {
    const done = setsOf(thursday, often);
    expect(nextOf(courseOf(rows, thursday, week))?.planned.key).toBe(often.key);
    expect(nextOf(courseOf(rows, done, week))).toBeNull();
    expect(end(done)).toMatchObject({ endedBecause: 'done', notAsked: [seldom.key] });
    expect(end(thursday).endedBecause).toBe('stopped');
    expect(askedAgainstDone(rows, end(done)).share).toBe(askedAgainstDone(rows, done).share);
  });

  it('can be done all the same, whole or in part', () => {
    const course = courseOf(rows, thursday, week)[1];
    expect(course).toMatchObject({ state: 'open', clearance: { mayStart: true } });
    const part = withSet(
      setsOf(thursday, often),
      { exerciseKey: seldom.key, exercise: seldom.exercise, recordId: null },
      OPEN_SET,
    );
    expect(end(part).endedBecause).toBe('done');
    expect(end(part)).not.toHaveProperty('notAsked');
    const all = end(setsOf(setsOf(thursday, often), seldom));
    expect(trainingDaySchema.parse(all)).toEqual(all);
  });

  it('counts a day on which the most frequent one was over as the others say', () => {
    const four = [...week, dayOn(rows, '03-04')];
    const both = currentStage(rows).exercises.map(({ dose }) => dose.daysAWeek);
    expect(both).toEqual([3, 2]);
    const over = courseOf(rows, thursday, four);
    expect(over.every(({ due }) => !due.isAsked)).toBe(true);
    const onlySeldom = setsOf(thursday, seldom);
    const day = endDay(onlySeldom, rows, '2026-03-05T19:00:00+01:00', four);
    expect(day).toMatchObject({ endedBecause: 'done', notAsked: [often.key] });
    const counted = {
      ...day,
      exercises: dayOn(rows, '03-05').exercises.filter((e) => e.exerciseKey === seldom.key),
    };
    expect(askedAgainstDone(rows, counted).share).toBe(1);
    expect(askedAgainstDone(rows, { ...counted, notAsked: [] }).share).toBe(0.5);
  });
});
