import { describe, expect, it } from 'vitest';
import { lastFelt } from '../../../src/core/plan/equipment-signs.ts';
import { currentStage } from '../../../src/core/plan/plan.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';

describe('where an exercise was felt to be hardest', () => {
  const plan = nextVersion(inventedPlan(), { stageKey: 'band-curl' }, '2026-03-01T11:00:00+01:00');
  const band = currentStage(plan).exercises.find(({ exercise }) => exercise === 'band-curl');

  it('is the last answer, also when nobody answered afterwards', () => {
    const days = [
      dayOn(plan, '03-02', { hardest: 'straight' }),
      dayOn(plan, '03-04', { hardest: 'bent' }),
      dayOn(plan, '03-06', { hardest: null }),
    ];
    expect(lastFelt(days)[band?.key ?? '']).toBe('bent');
  });

  it('is not known without an answer', () => {
    expect(lastFelt([dayOn(plan, '03-02', { hardest: null })])).toEqual({});
  });
});
