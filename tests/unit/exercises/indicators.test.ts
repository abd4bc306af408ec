import { describe, expect, it } from 'vitest';
import { FLAG_KINDS } from '../../../src/core/exercises/judgement.ts';
import { INDICATOR_CASES } from '../../helpers/indicator-cases.ts';

describe('what judging notices', () => {
  it.each(INDICATOR_CASES)('$indicator: $situation is $expected', ({ expected, got }) => {
    expect(got()).toBe(expected);
  });

  it.each(FLAG_KINDS)('%s has a trace that shows it and one that does not', (kind) => {
    const expected = INDICATOR_CASES.filter(({ indicator }) => indicator === kind).map((c) => c.expected);
    expect(expected).toContain(true);
    expect(expected).toContain(false);
  });
});
