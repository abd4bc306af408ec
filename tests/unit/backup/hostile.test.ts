import { describe, expect, it } from 'vitest';
import { hostileRuns, type HostileRun } from '../../faults/hostile.ts';

/** The short form of the hostile part of `npm run faults`. */
const TIMES = 120;

describe('documents, packages and backups with one thing wrong', () => {
  it('are refused with a sentence, or say what is shown of them', async () => {
    const runs: HostileRun[] = [];
    for await (const run of hostileRuns(TIMES, 7)) runs.push(run);
    expect(runs.filter(({ wrong }) => wrong !== null)).toEqual([]);
    expect(runs.filter(({ outcome }) => outcome === 'refused').length).toBeGreaterThan(TIMES / 2);
  });
});
