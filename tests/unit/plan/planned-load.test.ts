import { expect, test } from 'vitest';
import { plannedLoad } from '../../../src/core/plan/planned-load.ts';
import type { Bar } from '../../../src/core/loads/equipment.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';

const BAR: Bar = {
  kind: 'bar',
  massKg: 20,
  lengthM: 2.2,
  supportsM: [0, 2.2],
  heldDown: [false, false],
  gripsM: [2.2],
  supportShape: 'open-above',
};

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
