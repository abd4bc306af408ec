import { describe, expect, it } from 'vitest';
import { summaryTable } from '../../../scripts/measure/summary-table.ts';
import type { ClipRow } from '../../../src/core/export/summary-csv.ts';

const SETTINGS = { exercise: 'body-curl', side: 'left' } as const;
const MEASURED: ClipRow = {
  clip: 'curls.mp4',
  settings: SETTINGS,
  durationSeconds: 30.04,
  frames: 901,
  wallSeconds: 60,
  problem: null,
  summary: {
    repetitions: 5,
    partialRepetitions: 1,
    shoulderDominantRepetitions: null,
    judgedRepetitions: 0,
    holds: 0,
    holdInRangeSeconds: 0,
    totalSeconds: 30,
    measuredShare: 0.987,
    elbowMinDeg: 12.4,
    elbowMaxDeg: 118.6,
    torsoTravelCmMedian: 31.26,
    torsoTravelUpperArmsMedian: 1,
    loweringSecondsMedian: 3.04,
    flagged: {},
  },
};
const BROKEN: ClipRow = {
  ...MEASURED,
  clip: 'b.mp4',
  durationSeconds: null,
  frames: null,
  summary: null,
  problem: 'The clip holds no picture.',
};

describe('the table that a run prints', () => {
  it('has a line for each clip, a dash where there is no figure, and the sentence below', () => {
    const lines = summaryTable([MEASURED, BROKEN], 20.03).split('\n');
    expect(lines[1]?.split(/ {2,}/)).toEqual([
      'curls.mp4',
      '30.0',
      '0.5',
      '99',
      '5',
      '1',
      '-',
      '0.0',
      '12 to 119',
      '31.3',
      '3.0',
    ]);
    expect(lines[2]?.split(/ {2,}/)).toEqual(['b.mp4', ...new Array<string>(10).fill('-')]);
    expect(lines[4]).toBe('30.0 s of clips in 20.0 s: 1.5 times real time');
    expect(lines.slice(6)).toEqual(['b.mp4: The clip holds no picture.', '']);
    expect(lines[0]).toHaveLength(lines[1]?.length ?? 0);
  });
});
