import { describe, expect, it } from 'vitest';
import { dayLogText, readDayLog } from '../../../src/core/export/day-log.ts';
import { laterState } from '../../../src/core/plan/merge-days.ts';
import { dayOn, inventedPlan } from '../../helpers/plan-days.ts';
import { curlFilm, recordOf } from '../session/sample-session.ts';

const plan = inventedPlan();
const day = dayOn(plan, '03-02');
const record = recordOf([curlFilm(6)]);
const WRITTEN = '2026-03-03T10:00:00+01:00';
const log = { versions: [plan], days: [day], records: [record] };

describe('training days that are handed over', () => {
  it('come back as they were, with their plan and their records', () => {
    const reading = readDayLog(dayLogText(log, WRITTEN));
    expect(reading).toEqual({ ok: true, value: { ...log, unreadable: 0 } });
  });

  it('are read without what is damaged, and what is left out is counted', () => {
    const text = dayLogText(log, WRITTEN).replace('"painBefore":2', '"painBefore":-2');
    const reading = readDayLog(text);
    expect(reading.ok && [reading.value.days.length, reading.value.records.length]).toEqual([0, 1]);
    expect(reading.ok && reading.value.unreadable).toBe(1);
  });

  it.each([
    ['cut short', (text: string) => text.slice(0, -40), 'not-json'],
    ['a plan', () => JSON.stringify(plan), 'not-ours'],
    ['newer', (text: string) => text.replace('"schemaVersion":1', '"schemaVersion":9'), 'newer-version'],
    ['with more in it', (text: string) => text.replace('{', '{"more":1,'), 'damaged'],
    ['ambiguous', (text: string) => text.replace('{', '{"days":[],'), 'name-twice'],
  ])('are refused when the file is %s', (_, spoil, kind) => {
    const reading = readDayLog(spoil(dayLogText(log, WRITTEN)));
    expect(reading.ok ? 'read' : reading.problem.kind).toBe(kind);
  });
});

describe('of two states of a day', () => {
  const unanswered = { ...day, nextMorning: null };
  const cut = {
    ...unanswered,
    exercises: day.exercises.map((done) => ({ ...done, sets: done.sets.slice(0, 1) })),
  };
  it('the one in which something was answered last is kept, whichever way it came', () => {
    expect(laterState(unanswered, day)).toBe(day);
    expect(laterState(day, unanswered)).toBe(day);
  });
  it('of equal ones the one with more sets is kept, and what is kept here when they are alike', () => {
    expect(laterState(cut, unanswered)).toBe(unanswered);
    expect(laterState(unanswered, cut)).toBe(unanswered);
    expect(laterState(day, { ...day })).toBe(day);
  });
});
