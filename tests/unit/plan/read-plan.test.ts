import fc from 'fast-check';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { planProblemSentence } from '../../../src/core/feedback/plan-words.ts';
import { PLAN_SCHEMA_VERSION, planSchema } from '../../../src/core/plan/plan.ts';
import { MOST_CHARACTERS, readDay, readPlan, readPlanValue } from '../../../src/core/plan/read-plan.ts';
import { trainingDaySchema } from '../../../src/core/plan/training-day.ts';
import { dayOn, inventedPlan } from '../../helpers/plan-days.ts';
import { anyDay, anyPlan } from './any-plan.ts';

const SAMPLES = fileURLToPath(new URL('../../fixtures/plans/', import.meta.url));
const plan = inventedPlan();
const text = JSON.stringify(plan);

/** The plan with something put at a path, as the text of a file. */
function withAt(path: readonly (string | number)[], value: unknown): string {
  const copy: unknown = structuredClone(plan);
  let place: unknown = copy;
  for (const step of path.slice(0, -1)) place = Reflect.get(Object(place), step);
  Reflect.set(Object(place), path.at(-1) ?? '', value);
  return JSON.stringify(copy);
}

function refusal(of: string): string {
  const reading = readPlan(of);
  if (reading.ok) throw new Error('It was read.');
  const sentence = planProblemSentence(reading.problem);
  expect(sentence).toMatch(/^This [^\n]{20,400}\.$/);
  expect(sentence).not.toMatch(/undefined|NaN|\[object/);
  return reading.problem.kind === 'damaged' ? reading.problem.path : reading.problem.kind;
}

describe('plans and days come back as they were written', () => {
  it('for any plan', () => {
    fc.assert(
      fc.property(anyPlan, (any) => {
        const reading = readPlan(JSON.stringify(any));
        expect(reading).toEqual({ ok: true, plan: planSchema.parse(any) });
        if (reading.ok) expect(readPlanValue(structuredClone(reading.plan))).toEqual(reading);
      }),
    );
  });

  it('for any training day', () => {
    fc.assert(
      fc.property(anyDay, (any) => {
        expect(readDay(JSON.stringify(any))).toEqual({ ok: true, day: trainingDaySchema.parse(any) });
      }),
    );
  });

  it('with a byte order mark before them, as some editors leave it', () => {
    expect(readPlan(`\uFEFF${text}`)).toEqual({ ok: true, plan });
  });

  it.each(readdirSync(SAMPLES).filter((name) => name.endsWith('.plan.json')))('reads %s', (name) => {
    const reading = readPlan(readFileSync(SAMPLES + name, 'utf8'));
    expect(reading).toMatchObject({ ok: true, plan: { schemaVersion: PLAN_SCHEMA_VERSION } });
  });

  it('keeps a sample of each version', () => {
    const kept = readdirSync(SAMPLES).flatMap((name) => /^v(\d+)-.*\.plan\.json$/.exec(name)?.[1] ?? []);
    expect(new Set(kept).size).toBe(PLAN_SCHEMA_VERSION);
  });
});

describe('what is no plan is refused with a sentence', () => {
  it.each([
    ['an empty file', '', 'not-json'],
    ['a file that was cut', text.slice(0, -20), 'not-json'],
    ['NaN', text.replace('"statureCm":175', '"statureCm":NaN'), 'not-json'],
    ['Infinity', text.replace('"statureCm":175', '"statureCm":Infinity'), 'not-json'],
    [
      'a number too large for a number',
      text.replace('"statureCm":175', '"statureCm":1e999'),
      'person.statureCm',
    ],
    ['a list', '[]', 'not-ours'],
    ['null', 'null', 'not-ours'],
    ['a session record', withAt(['format'], 'forearmed-session-record'), 'not-ours'],
    ['a newer version', withAt(['schemaVersion'], PLAN_SCHEMA_VERSION + 1), 'newer-version'],
    ['version 0', withAt(['schemaVersion'], 0), 'schemaVersion'],
    ['a version of a half', withAt(['schemaVersion'], 1.5), 'schemaVersion'],
    ['a version in words', withAt(['schemaVersion'], '1'), 'schemaVersion'],
    ['no sets', withAt(['stages', 0, 'exercises', 0, 'dose', 'sets'], 0), 'stages.0.exercises.0.dose.sets'],
    [
      'fewer than no sets',
      withAt(['stages', 0, 'exercises', 0, 'dose', 'sets'], -3),
      'stages.0.exercises.0.dose.sets',
    ],
    [
      'a billion sets',
      withAt(['stages', 0, 'exercises', 0, 'dose', 'sets'], 1e9),
      'stages.0.exercises.0.dose.sets',
    ],
    [
      'half a set',
      withAt(['stages', 0, 'exercises', 0, 'dose', 'sets'], 2.5),
      'stages.0.exercises.0.dose.sets',
    ],
    [
      'easier sets only',
      withAt(['stages', 0, 'exercises', 0, 'dose', 'easierSetsBefore'], 5),
      'stages.0.exercises.0.dose',
    ],
    [
      'a hold asked in repetitions',
      withAt(['stages', 0, 'exercises', 0, 'dose'], plan.stages[1]?.exercises[1]?.dose),
      'stages.0.exercises.0.dose',
    ],
    [
      'curls asked in seconds',
      withAt(['stages', 1, 'exercises', 1, 'dose'], plan.stages[0]?.exercises[0]?.dose),
      'stages.1.exercises.1.dose',
    ],
    [
      'a repetition that ends straighter than it starts',
      withAt(['stages', 1, 'exercises', 1, 'range'], { startFlexionDeg: 120, topFlexionDeg: 20 }),
      'stages.1.exercises.1.range',
    ],
    [
      'a threshold out of its range',
      withAt(['stages', 0, 'exercises', 0, 'thresholds'], { targetAngleDeg: 179 }),
      'stages.0.exercises.0.thresholds.targetAngleDeg',
    ],
    [
      'a threshold that does not exist',
      withAt(['stages', 0, 'exercises', 0, 'thresholds'], { clearEveryone: 1 }),
      'stages.0.exercises.0.thresholds',
    ],
    [
      'a thousand stages',
      withAt(
        ['stages'],
        Array.from({ length: 1000 }, () => plan.stages[0]),
      ),
      'stages',
    ],
    ['no stage', withAt(['stages'], []), 'stages'],
    ['a stage followed that is not there', withAt(['stageKey'], 'elsewhere'), 'stageKey'],
    ['two stages of one name', withAt(['stages', 1, 'key'], 'hold'), 'stages'],
    ['two exercises of one name', withAt(['stages', 1, 'exercises', 0, 'key'], 'hold'), 'exercises'],
    ['a label of nothing but spaces', withAt(['person', 'label'], '   '), 'person.label'],
    ['a label with a line break', withAt(['person', 'label'], 'a\nb'), 'person.label'],
    ['a label with an escape character', withAt(['person', 'label'], 'a\u001b[31m'), 'person.label'],
    [
      'a label that turns the direction of writing',
      withAt(['person', 'label'], 'a\u202egpj'),
      'person.label',
    ],
    ['a label of a megabyte', withAt(['person', 'label'], 'a'.repeat(900_000)), 'person.label'],
    ['a side that is none', withAt(['person', 'treatedSide'], 'both'), 'person.treatedSide'],
    ['a moment that is none', withAt(['writtenAt'], 'yesterday'), 'writtenAt'],
    ['something that nobody knows', withAt(['autoClear'], true), 'the whole plan'],
    [
      'a wish to be the prototype',
      text.replace('{', '{"__proto__":{"highEffort":{"decided":"allowed"}},'),
      'the whole plan',
    ],
    ['a constructor', text.replace('{', '{"constructor":{"prototype":{}},'), 'the whole plan'],
  ])('%s', (_, hostile, expected) => {
    expect(refusal(hostile)).toBe(expected);
  });

  it('text of more than it may have, before it is parsed', () => {
    expect(refusal(`${text}${' '.repeat(MOST_CHARACTERS)}`)).toBe('too-long');
  });

  it('nesting of two hundred thousand lists', () => {
    const deep = `${'['.repeat(200_000)}${']'.repeat(200_000)}`;
    expect(refusal(deep)).toBe('not-ours');
    expect(refusal(text.replace('"highEffort":null', `"highEffort":${deep}`))).toBe('highEffort');
  });

  it('a name that is given twice, however it is written', () => {
    expect(refusal(text.replace('"sets":5', '"sets":5,"sets":20'))).toBe('name-twice');
    expect(refusal(text.replace('"sets":5', '"sets":5,"se\\u0074s":20'))).toBe('name-twice');
  });

  it('leaves nothing behind in the prototype of objects', () => {
    readPlan('{"__proto__":{"polluted":true},"format":"forearmed-plan","schemaVersion":1}');
    expect(Reflect.get({}, 'polluted')).toBeUndefined();
  });

  it('never lets any change of one character through as a plan of another shape', () => {
    fc.assert(
      fc.property(fc.nat(text.length - 1), fc.string({ minLength: 1, maxLength: 1 }), (at, character) => {
        const reading = readPlan(text.slice(0, at) + character + text.slice(at + 1));
        if (reading.ok) expect(planSchema.safeParse(reading.plan).success).toBe(true);
        else expect(planProblemSentence(reading.problem)).toMatch(/^This .*\.$/);
      }),
    );
  });
});

describe('what is odd but harmless stays as it is', () => {
  it.each([
    '<script>alert(1)</script>',
    '" onload="x',
    '{{7*7}}',
    '=HYPERLINK("x")',
    '../../x',
    'Zoë 左 עין',
  ])('keeps the label %s as text', (label) => {
    const reading = readPlan(withAt(['person', 'label'], label));
    expect(reading).toMatchObject({ ok: true, plan: { person: { label } } });
  });

  it('takes spaces off the ends of a label', () => {
    const reading = readPlan(withAt(['person', 'label'], '  Tuesday '));
    expect(reading).toMatchObject({ ok: true, plan: { person: { label: 'Tuesday' } } });
  });

  it('finds the same word twice harmless in two objects, as a value, and in a value', () => {
    const note = 'a "sets": "sets": {"sets":1,"sets":2}';
    expect(readPlan(withAt(['stages', 0, 'exercises', 0, 'note'], note))).toMatchObject({ ok: true });
  });
});

describe('training days', () => {
  const day = dayOn(plan, '03-02');

  it('are refused like plans', () => {
    expect(readDay(JSON.stringify(plan))).toMatchObject({ ok: false, problem: { kind: 'not-ours' } });
    expect(readDay(JSON.stringify({ ...day, painBefore: 11 }))).toMatchObject({
      ok: false,
      problem: { kind: 'damaged', path: 'painBefore' },
    });
    expect(readDay(JSON.stringify({ ...day, safetyYes: ['all-fine'] }))).toMatchObject({ ok: false });
  });

  it('say in their own words why not', () => {
    const reading = readDay('{');
    if (reading.ok) throw new Error('It was read.');
    expect(planProblemSentence(reading.problem, 'day')).toMatch(/training day/);
  });
});
