import { describe, expect, it } from 'vitest';
import { planDifferences } from '../../../src/core/feedback/plan-differences.ts';
import { changePlan, type PlanChange } from '../../../src/core/plan/change-plan.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { isMeasuredExercise, type PlannedExercise } from '../../../src/core/plan/plan.ts';
import { thresholdsOf } from '../../../src/core/plan/planned-thresholds.ts';
import { inventedPlan, nextVersion } from '../../helpers/plan-days.ts';

const plan = inventedPlan();
const MOMENT = '2026-03-05T09:00:00+01:00';
const differences = (change: PlanChange): string[] =>
  planDifferences(plan, nextVersion(plan, change, MOMENT));

/** The plan's stages with something changed of the second exercise of the second stage, the body-moving curl. */
function withCurl(change: (curl: PlannedExercise) => PlannedExercise): PlanChange {
  return {
    stages: plan.stages.map((stage, place) =>
      place === 1
        ? { ...stage, exercises: stage.exercises.map((each, index) => (index === 1 ? change(each) : each)) }
        : stage,
    ),
  };
}

describe('a new version', () => {
  it('has the next number, its own date and reason, and leaves the old one as it was', () => {
    const before = structuredClone(plan);
    const next = nextVersion(plan, { stageKey: 'body-curl' }, MOMENT, 'Ready.');
    expect(next).toMatchObject({
      version: 2,
      writtenAt: MOMENT,
      reason: 'Ready.',
      stageKey: 'body-curl',
      id: plan.id,
    });
    expect(plan).toEqual(before);
  });

  it('is refused where it would be no plan', () => {
    expect(changePlan(plan, { stageKey: 'elsewhere' }, MOMENT, 'x')).toMatchObject({ ok: false });
    expect(changePlan(plan, {}, MOMENT, '  ')).toMatchObject({ ok: false, problem: { path: 'reason' } });
    expect(changePlan({ ...plan, version: 9999 }, {}, MOMENT, 'x')).toMatchObject({
      problem: { path: 'version' },
    });
  });

  it('says nothing where nothing changed but version, date and reason', () => {
    expect(differences({})).toEqual([]);
  });

  it.each<[string, PlanChange, RegExp]>([
    [
      'the stage that is followed',
      { stageKey: 'body-curl' },
      /Stage followed: Hold at a right angle → Body-moving curl/,
    ],
    ['the questions', { screening: { answeredAt: MOMENT, yes: ['hernia'] } }, /no to all → yes to hernia/],
    [
      'the decision on holds',
      { highEffort: { decided: 'withheld', decidedAt: MOMENT, reason: 'Wait.' } },
      /not decided → withheld, Wait/,
    ],
    [
      'a pain rule',
      { painRules: { ...plan.painRules, riseAllowed: 1 } },
      /Rise of pain allowed in a session: 0 → 1/,
    ],
    ['a limit that is taken away', { painRules: { ...plan.painRules, mostAllowed: null } }, /5 → no limit/],
    [
      'a rule of progress',
      { progressRules: { ...plan.progressRules, doseShareToCount: 0.9 } },
      /80 % → 90 %/,
    ],
    ['the body mass', { person: { ...plan.person, bodyMassKg: null } }, /75 kg → not given/],
    ['a stage taken out', { stages: plan.stages.slice(0, -1) }, /Stage taken out: Chin-ups and pulling/],
    ['another order', { stages: plan.stages.toReversed() }, /Order of the stages/],
    [
      'a dose',
      withCurl((curl) => ({ ...curl, dose: { ...curl.dose, sets: 2 } })),
      /3 sets of 8 → 2 sets of 8/,
    ],
    ['a note', withCurl((curl) => ({ ...curl, note: null })), /note changed/],
    [
      'a threshold',
      withCurl((curl) =>
        isMeasuredExercise(curl) ? { ...curl, thresholds: { shoulderWorkShare: 0.4 } } : curl,
      ),
      /0\.5 share → 0\.4 share/,
    ],
  ])('says %s', (_, change, words) => {
    const said = differences(change);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(words);
  });
});

describe('thresholds of a planned exercise', () => {
  it('are the therapist’s, else follow from dose and range, else the defaults', () => {
    const curl = plan.stages[1]?.exercises[1];
    if (curl?.exercise !== 'body-curl' || curl.dose.kind !== 'repetitions')
      throw new Error('The plan has changed.');
    expect(thresholdsOf(curl)).toEqual(DEFAULT_THRESHOLDS);
    const slow = { ...curl, dose: { ...curl.dose, loweringSeconds: 6 } };
    expect(thresholdsOf(slow).shortestLoweringSeconds).toBe(4);
    expect(
      thresholdsOf({ ...slow, thresholds: { shortestLoweringSeconds: 5 } }).shortestLoweringSeconds,
    ).toBe(5);
    const range = { startFlexionDeg: 15, topFlexionDeg: 120 };
    expect(thresholdsOf({ ...curl, range })).toMatchObject({
      plannedStartFlexionDeg: 15,
      plannedTopFlexionDeg: 120,
    });
  });
});
