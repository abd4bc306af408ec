import { describe, expect, it } from 'vitest';
import { SourceClock } from '../../../src/core/pose/source-clock.ts';

describe('the clock of a live source', () => {
  it('begins with its first picture, however long the machine has been on', () => {
    const clock = new SourceClock();
    const upSeconds = 3_000_000.25;
    expect([0, 0.04, 12.5].map((seconds) => clock.since(upSeconds + seconds))).toEqual([
      0,
      expect.closeTo(0.04, 6),
      expect.closeTo(12.5, 6),
    ]);
  });
});
