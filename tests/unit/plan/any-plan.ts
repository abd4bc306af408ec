import fc from 'fast-check';
import { THRESHOLD_NAMES, THRESHOLD_TABLE } from '../../../src/core/exercises/thresholds.ts';
import { PLAN_FORMAT, PLAN_SCHEMA_VERSION, type Plan } from '../../../src/core/plan/plan.ts';
import { PAIN_OFFERS } from '../../../src/core/plan/pain-rules.ts';
import { PLAN_QUESTIONS, SESSION_QUESTIONS } from '../../../src/core/plan/safety-questions.ts';
import {
  DAY_FORMAT,
  DAY_SCHEMA_VERSION,
  HARDEST_PLACES,
  PAIN_PLACES,
  type TrainingDay,
} from '../../../src/core/plan/training-day.ts';

/** The public key that the age specification gives as its example (from the README of the reference implementation, from memory). */
const EXAMPLE_KEY = 'age1ql3z7hjy54pw3hyww5ayyfg7zqgvc7w3j2elw8zmrj2kg5sfn9aqmcac8p';

/* Any plan and any training day that the schemas allow, for properties over random inputs. */

/** A number in a range; JSON knows no −0. */
const number = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
const integer = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min, max });
const orNull = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(arbitrary, { nil: null });

const line = (most: number): fc.Arbitrary<string> =>
  fc
    .string({ unit: 'grapheme', minLength: 1, maxLength: most })
    .map((text) =>
      text
        .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu, '')
        .trim()
        .slice(0, most),
    )
    .filter((text) => text.length > 0 && text.isWellFormed());
const moment = fc
  .tuple(
    fc.date({ min: new Date('1990-01-01'), max: new Date('2090-01-01'), noInvalidDate: true }),
    fc.constantFrom('Z', '+01:00', '-09:30', '+14:00'),
  )
  .map(([date, offset]) => date.toISOString().replace('Z', offset));

const weekly = { sets: integer(2, 20), restSeconds: integer(0, 900), daysAWeek: integer(1, 7) };
const holdDose = fc.record({
  kind: fc.constant('hold' as const),
  ...weekly,
  holdSeconds: integer(3, 300),
  easierSetsBefore: integer(0, 1),
});
const repetitionDose = fc.record({
  kind: fc.constant('repetitions' as const),
  ...weekly,
  repetitions: integer(1, 100),
  bendingSeconds: number(0.5, 20),
  loweringSeconds: number(0.5, 20),
});

const thresholds = fc.record(
  Object.fromEntries(
    THRESHOLD_NAMES.map((name) => [name, number(THRESHOLD_TABLE[name].min, THRESHOLD_TABLE[name].max)]),
  ),
  { requiredKeys: [] },
);
const range = orNull(fc.record({ startFlexionDeg: number(-20, 60), topFlexionDeg: number(61, 170) }));

const bar = fc.record({
  kind: fc.constant('bar' as const),
  massKg: number(0.5, 400),
  lengthM: number(2, 4),
  supportsM: fc.tuple(number(0, 0.9), number(1.1, 2)),
  heldDown: fc.tuple(fc.boolean(), fc.boolean()),
  gripsM: fc.array(number(0, 2), { minLength: 1, maxLength: 2 }),
  supportShape: fc.constantFrom('open-above' as const, 'open-in-front' as const, 'closed' as const),
});
const bodyCurlSetUp = fc.record({
  kind: fc.constant('body-curl-set-up' as const),
  barHeightM: number(0.3, 2.5),
  feetForwardM: number(-1, 2.5),
  hands: fc.constantFrom(1 as const, 2 as const),
});
const dumbbell = fc.record({ kind: fc.constant('dumbbell' as const), massKg: number(0, 150) });

const basics = { note: orNull(line(400)) };
const exercise = fc.oneof(
  fc.record({
    exercise: fc.constant('hold' as const),
    ...basics,
    dose: holdDose,
    thresholds,
    equipment: orNull(bar),
  }),
  fc.record({
    exercise: fc.constant('body-curl' as const),
    ...basics,
    dose: repetitionDose,
    thresholds,
    range,
    equipment: orNull(bodyCurlSetUp),
  }),
  fc.record({
    exercise: fc.constant('band-curl' as const),
    ...basics,
    dose: repetitionDose,
    thresholds,
    variant: fc.constantFrom('supinated' as const, 'turning' as const),
    range,
    equipment: fc.constant(null),
  }),
  fc.record({
    exercise: fc.constant('free-curl' as const),
    ...basics,
    dose: repetitionDose,
    thresholds,
    range,
    equipment: orNull(dumbbell),
  }),
  fc.record({
    exercise: fc.constantFrom('row' as const, 'chin-up' as const, 'pulling' as const),
    ...basics,
    dose: fc.oneof(holdDose, repetitionDose),
  }),
);
const stages = fc
  .array(fc.record({ name: line(80), exercises: fc.array(exercise, { minLength: 1, maxLength: 3 }) }), {
    minLength: 1,
    maxLength: 4,
  })
  .map((list) =>
    list.map((stage, place) => ({
      ...stage,
      key: `stage-${place}`,
      exercises: stage.exercises.map((each, index) => ({ ...each, key: `exercise-${place}-${index}` })),
    })),
  );

/** Any plan. Bands are left out: the tests of loads draw them. */
export const anyPlan: fc.Arbitrary<Plan> = fc.record({
  format: fc.constant(PLAN_FORMAT),
  schemaVersion: fc.constant(PLAN_SCHEMA_VERSION),
  id: fc.uuid(),
  version: integer(1, 9999),
  writtenAt: moment,
  reason: line(400),
  person: fc.record({
    label: line(60),
    treatedSide: fc.constantFrom('left' as const, 'right' as const),
    statureCm: number(80, 250),
    bodyMassKg: orNull(number(25, 300)),
  }),
  screening: orNull(fc.record({ answeredAt: moment, yes: fc.subarray([...PLAN_QUESTIONS]) })),
  highEffort: orNull(
    fc.record({
      decided: fc.constantFrom('allowed' as const, 'withheld' as const),
      decidedAt: moment,
      reason: line(400),
    }),
  ),
  painRules: fc.record({
    riseAllowed: integer(0, 5),
    mostAllowed: orNull(integer(0, 10)),
    nextMorningRiseAllowed: integer(0, 5),
    offers: fc.subarray([...PAIN_OFFERS], { minLength: 1 }),
  }),
  progressRules: fc.record({
    goodDaysToAdvance: integer(1, 30),
    doseShareToCount: number(0.3, 1),
    shoulderDominantShareAllowed: number(0, 1),
    badDaysToStepBack: integer(1, 10),
    daysOffBeforeStepBack: integer(3, 60),
  }),
  stages,
  stageKey: fc.constant('stage-0'),
  therapistKey: fc.constantFrom(null, EXAMPLE_KEY),
});

const rating = orNull(integer(0, 10));
const places = fc.subarray([...PAIN_PLACES]);
const share = orNull(number(0, 1));
const amount = orNull(number(0, 1e4));
const count = orNull(integer(0, 200));
const measured = fc.record({
  heldSeconds: amount,
  meanHoldDeg: orNull(number(-20, 180)),
  inRangeShare: share,
  handRoseUpperArms: orNull(number(-2, 2)),
  repetitions: count,
  partialRepetitions: count,
  shoulderDominant: count,
  judgedRepetitions: count,
  loweringSeconds: amount,
  rangeDeg: amount,
  shoulderShare: orNull(number(-1, 2)),
  timeUnderTensionSeconds: amount,
  elbowImpulseNms: orNull(fc.record({ value: number(0, 1e5), least: number(0, 1e5), most: number(0, 1e5) })),
});
const set = fc.record({
  saidDone: orNull(fc.record({ holdSeconds: count, repetitions: count })),
  measured: orNull(measured),
  painAfter: rating,
  effort: rating,
  hardest: orNull(fc.constantFrom(...HARDEST_PLACES)),
  painOffer: orNull(
    fc.constantFrom('end-set' as const, 'shorten' as const, 'step-down' as const, 'went-on' as const),
  ),
});

/** Any training day; its plan is any. */
export const anyDay: fc.Arbitrary<TrainingDay> = fc.record({
  format: fc.constant(DAY_FORMAT),
  schemaVersion: fc.constant(DAY_SCHEMA_VERSION),
  id: fc.uuid(),
  planId: fc.uuid(),
  planVersion: integer(1, 9999),
  stageKey: fc.constantFrom('stage-0', 'stage-1', 'elsewhere'),
  startedAt: moment,
  endedAt: orNull(moment),
  safetyYes: fc.subarray([...SESSION_QUESTIONS]),
  safetyAnsweredAt: orNull(moment),
  painBefore: rating,
  exercises: fc.array(
    fc.record({
      exerciseKey: fc.constantFrom('exercise-0-0', 'exercise-0-1', 'exercise-1-0'),
      exercise: fc.constantFrom('hold' as const, 'body-curl' as const, 'band-curl' as const, 'row' as const),
      recordId: orNull(fc.uuid()),
      sets: fc.array(set, { maxLength: 6 }),
    }),
    { maxLength: 4 },
  ),
  painAtEnd: rating,
  painPlaces: places,
  endedBecause: orNull(
    fc.constantFrom(
      'done' as const,
      'stopped' as const,
      'pain' as const,
      'safety' as const,
      'broken-off' as const,
    ),
  ),
  nextMorning: orNull(fc.record({ answeredAt: moment, pain: rating, painPlaces: places })),
});
