import { describe, expect, it } from 'vitest';
import { changePlan } from '../../../src/core/plan/change-plan.ts';
import {
  MOST_EXERCISES,
  MOST_STAGES,
  moved,
  withNewExercise,
  withNewStage,
  withoutExercise,
  withoutStage,
} from '../../../src/core/plan/edit-stages.ts';
import { PLANNED_EXERCISES, type Stage } from '../../../src/core/plan/plan.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';

const plan = inventedPlan();

/** Passes when the plan's own gate takes the stages. */
const isTaken = (stages: Stage[]): boolean =>
  changePlan(plan, { stages }, '2026-03-02T10:00:00+01:00', 'Test.').ok;

describe('the stages of a plan, while it is written,', () => {
  it('take every exercise at a dose that the plan’s gate takes, under a name that is not taken', () => {
    const stages = PLANNED_EXERCISES.reduce(
      (all, name) => withNewExercise(all, 'hold', name),
      [...plan.stages],
    );
    expect(stages[0]?.exercises).toHaveLength(1 + PLANNED_EXERCISES.length);
    expect(isTaken(stages)).toBe(true);
  });

  it('take no more stages and exercises than the schema does', () => {
    let stages = [...plan.stages];
    for (let count = 0; count < 20; count++)
      stages = withNewExercise(withNewStage(stages, 'More'), 'hold', 'hold');
    expect(stages).toHaveLength(MOST_STAGES);
    expect(stages[0]?.exercises).toHaveLength(MOST_EXERCISES);
    expect(isTaken(stages)).toBe(true);
  });

  it('never lose the last stage or the last exercise of a stage', () => {
    let stages = [...plan.stages];
    for (const { key } of plan.stages) stages = withoutStage(stages, key);
    expect(stages).toHaveLength(1);
    const [last] = stages;
    for (const { key } of last?.exercises ?? []) stages = withoutExercise(stages, key);
    expect(stages[0]?.exercises).toHaveLength(1);
    expect(plan.stages).toHaveLength(7);
  });

  it.each([
    ['b', -1, 'bac'],
    ['b', 1, 'acb'],
    ['a', -1, 'abc'],
    ['c', 5, 'abc'],
    ['x', 1, 'abc'],
  ])('moves %s by %i as far as there are places', (key, by, order) => {
    const items = [{ key: 'a' }, { key: 'b' }, { key: 'c' }];
    expect(
      moved(items, key, by)
        .map((item) => item.key)
        .join(''),
    ).toBe(order);
  });
});
