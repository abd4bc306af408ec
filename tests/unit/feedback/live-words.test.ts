import { describe, expect, it } from 'vitest';
import { angleWords, countWords, NO_COUNTS, stateWords } from '../../../src/core/feedback/live-words.ts';
import { estimate, notMeasured } from '../../../src/core/kinematics/measured.ts';

const HOLD = {
  exercise: 'hold',
  phase: 'rest',
  reason: null,
  target: { low: 80, high: 100 },
  elbowFlexionDeg: estimate(90, 4),
} as const;

describe('the state in a word', () => {
  it('says whether the elbow is in the target range, and by which side it is out', () => {
    expect(stateWords({ ...HOLD, phase: 'in-range' })).toMatchObject({ role: 'within', word: 'Hold' });
    expect(stateWords({ ...HOLD, elbowFlexionDeg: estimate(60, 4) }).detail).toBe('too straight');
    expect(stateWords({ ...HOLD, elbowFlexionDeg: estimate(120, 4) }).detail).toBe('too bent');
  });

  it('names the phases of a repetition', () => {
    const curl = { ...HOLD, exercise: 'free-curl', target: null } as const;
    const words = (['rest', 'bending', 'top', 'lowering'] as const).map(
      (phase) => stateWords({ ...curl, phase }).word,
    );
    expect(words).toEqual(['Rest', 'Bend', 'Top', 'Lower']);
  });

  it('says that and why nothing is measured, whatever the phase', () => {
    const lost = stateWords({ ...HOLD, phase: 'in-range', reason: 'two-people' });
    expect(lost).toMatchObject({ role: 'attention', word: 'Not measured', detail: 'more than one person' });
  });
});

describe('the big figures', () => {
  it('give whole degrees with the interval, or the reason and no figure', () => {
    expect(angleWords(estimate(92.4, 3.6))).toEqual({ figure: '92', unit: 'deg', note: '± 4' });
    expect(angleWords(notMeasured('arm-not-seen'))).toMatchObject({ figure: null, note: 'arm not seen' });
  });

  it('run the hold clock in tenths and never ahead of what was held', () => {
    expect(countWords('hold', { ...NO_COUNTS, inRangeSeconds: 12.39 }).figure).toBe('12.3');
    expect(countWords('hold', { ...NO_COUNTS, inRangeSeconds: 99.99 }).figure).toBe('99.9');
    expect(countWords('hold', { ...NO_COUNTS, inRangeSeconds: 104.2 }).figure).toBe('104');
  });

  it('count repetitions, partial ones apart, with the time of the last lowering', () => {
    const counts = { inRangeSeconds: 0, repetitions: 4, partialRepetitions: 1, loweringSeconds: 2.44 };
    expect(countWords('band-curl', counts)).toMatchObject({
      figure: '4',
      note: 'lowered in 2.4 s, and 1 partial',
    });
    expect(countWords('band-curl', NO_COUNTS)).toMatchObject({ figure: '0', note: '' });
  });
});
