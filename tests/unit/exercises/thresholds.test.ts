import { describe, expect, it } from 'vitest';
import {
  DEFAULT_THRESHOLDS,
  THRESHOLD_NAMES,
  THRESHOLD_TABLE,
  thresholdsSchema,
} from '../../../src/core/exercises/thresholds.ts';

describe('the table of thresholds', () => {
  it.each(THRESHOLD_NAMES)('%s has a unit, a meaning, a source and a default within its range', (name) => {
    const { value, min, max, unit, meaning, source } = THRESHOLD_TABLE[name];
    expect(unit).not.toBe('');
    expect(meaning.endsWith('.')).toBe(true);
    expect(source).not.toBe('');
    expect(value).toBeGreaterThanOrEqual(min);
    expect(value).toBeLessThanOrEqual(max);
  });

  it('gives defaults that the schema takes, and each is needed', () => {
    expect(thresholdsSchema.parse(DEFAULT_THRESHOLDS)).toEqual(DEFAULT_THRESHOLDS);
    for (const name of THRESHOLD_NAMES) {
      expect(thresholdsSchema.safeParse({ ...DEFAULT_THRESHOLDS, [name]: undefined }).success).toBe(false);
    }
  });

  it('refuses what lies outside the range', () => {
    expect(thresholdsSchema.safeParse({ ...DEFAULT_THRESHOLDS, toleranceDeg: 90 }).success).toBe(false);
    expect(thresholdsSchema.safeParse({ ...DEFAULT_THRESHOLDS, targetAngleDeg: Number.NaN }).success).toBe(
      false,
    );
  });
});
