import { describe, expect, it } from 'vitest';
import { parse } from 'csv-parse/sync';
import { painCsv } from '../../../src/core/export/pain-csv.ts';
import { isAbove, painDays } from '../../../src/core/plan/pain-days.ts';
import { dayOn, inventedPlan } from '../../helpers/plan-days.ts';

const invented = inventedPlan();
// In the session 2 more than before is allowed, the next morning nothing more: two ceilings.
const plan = {
  ...invented,
  painRules: { ...invented.painRules, riseAllowed: 2, nextMorningRiseAllowed: 0, mostAllowed: null },
};
const days = [
  dayOn(plan, '03-02', { painBefore: 1, painAfter: 3, painAtEnd: 1, morning: 2 }),
  dayOn(plan, '03-04', { painBefore: null, painAfter: null, painAtEnd: null, morning: null }),
].map((day) => ({ day, plan }));

describe('pain by training day', () => {
  it('has a ceiling of its own for the next morning', () => {
    const [first] = painDays(days);
    expect(first).toMatchObject({ before: 1, worst: 3, ceiling: 3, morning: 2, morningCeiling: 1 });
    expect(isAbove(first?.worst ?? null, first?.ceiling ?? null)).toBe(false);
    expect(isAbove(first?.morning ?? null, first?.morningCeiling ?? null)).toBe(true);
    expect(isAbove(null, 1)).toBe(false);
  });

  it('is a table that an independent reader reads, empty where nothing was said', () => {
    const rows: unknown = parse(painCsv(painDays(days)), { columns: true });
    expect(rows).toEqual([
      {
        date: '2026-03-02',
        plan_version: String(plan.version),
        pain_before_0_to_10: '1',
        pain_most_in_session_0_to_10: '3',
        ceiling_in_session_0_to_10: '3',
        pain_next_morning_0_to_10: '2',
        ceiling_next_morning_0_to_10: '1',
      },
      {
        date: '2026-03-04',
        plan_version: String(plan.version),
        pain_before_0_to_10: '',
        pain_most_in_session_0_to_10: '',
        ceiling_in_session_0_to_10: '',
        pain_next_morning_0_to_10: '',
        ceiling_next_morning_0_to_10: '',
      },
    ]);
  });
});
