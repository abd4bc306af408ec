import { expect, test } from 'vitest';
import { hangingPerson, plannedLoad } from '../../../src/core/plan/planned-load.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';
import { BAR_AT_ITS_ENDS as BAR } from '../../helpers/sample-equipment.ts';

test('a planned hold on a described bar is loaded at its own target angle', () => {
  const plan = inventedPlan();
  const hold = plan.stages.flatMap(({ exercises }) => exercises).find(({ exercise }) => exercise === 'hold');
  if (hold?.exercise !== 'hold') throw new Error('The invented plan has a hold.');
  const described = { ...hold, equipment: BAR, thresholds: { ...hold.thresholds, targetAngleDeg: 75 } };
  expect(plannedLoad(described, plan.person)).toMatchObject({
    equipment: BAR,
    range: { startFlexionDeg: 75, topFlexionDeg: 75 },
  });
  expect(plannedLoad({ ...described, equipment: null }, plan.person)).toBeNull();
});

test('what is not described, and what is only asked for, has no load', () => {
  const plan = inventedPlan();
  const rows = plan.stages.flatMap(({ exercises }) => exercises).filter(({ exercise }) => exercise === 'row');
  expect(rows.map((row) => plannedLoad(row, plan.person))).toEqual(rows.map(() => null));
});

test('who hangs in a body-moving curl is known only where the plan says mass and hands', () => {
  const plan = inventedPlan();
  const equipment = { kind: 'body-curl-set-up', barHeightM: 1.3, feetForwardM: 0.7, hands: 1 } as const;
  const stages = plan.stages.map((stage) => ({
    ...stage,
    exercises: stage.exercises.map((each) => (each.exercise === 'body-curl' ? { ...each, equipment } : each)),
  }));
  expect(hangingPerson({ ...plan, stages }, 'body-curl')).toEqual({ bodyMassKg: 75, hands: 1 });
  expect(hangingPerson(plan, 'body-curl')).toBeNull();
  expect(hangingPerson({ ...plan, stages }, 'hold')).toBeNull();
  const massless = { ...plan, stages, person: { ...plan.person, bodyMassKg: null } };
  expect(hangingPerson(massless, 'body-curl')).toBeNull();
});
