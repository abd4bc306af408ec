import { describe, expect, it } from 'vitest';
import { lookErrors, lookRows } from '../../yardstick/validation/looks-beside.ts';
import { traceOf } from '../../yardstick/trace.ts';
import { caseOf, imaginedPoses, momentsOf } from './imagined-case.ts';

const CLIP = 'free-curl-mirror';
const drawnCase = caseOf(CLIP, momentsOf(CLIP, 12));
const { full: faultless } = imaginedPoses(drawnCase, () => ({ x: 0, y: 0 }));
const { full: low } = imaginedPoses(drawnCase, (name, { trunkPx }) => ({
  x: 0,
  y: name.endsWith('wrist') ? 0.1 * trunkPx : 0,
}));

describe('networks side by side', () => {
  const errors = lookErrors(
    drawnCase,
    traceOf(drawnCase, { full: low, fullMirrored: faultless, heavy: faultless }),
  );

  it('err by what each found alone', () => {
    const largest = (values: readonly number[]): number => Math.max(...values.map(Math.abs));
    expect(errors.networkDeg.full).toHaveLength(12);
    expect(largest(errors.networkDeg.full)).toBeGreaterThan(3);
    // The record's whole numbers leave a little.
    expect(largest(errors.networkDeg.heavy)).toBeLessThan(0.7);
    expect(largest(errors.networkDeg.combined)).toBeLessThan(largest(errors.networkDeg.full));
  });

  it('stand in one row for each movement and turn of the camera', () => {
    const rows = lookRows(
      [errors, errors],
      [
        ['standing', 'Standing curls'],
        ['hold', 'Holds'],
      ],
    );
    expect(rows).toHaveLength(1);
    expect(rows[0]?.slice(0, 2)).toEqual(['Standing curls', '0°']);
    expect(rows[0]?.[4]).toMatch(/^0\.\d \(-?0\.\d\)$/);
  });
});
