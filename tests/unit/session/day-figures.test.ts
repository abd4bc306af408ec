import { describe, expect, it } from 'vitest';
import { isMeasured } from '../../../src/core/kinematics/measured.ts';
import { measuredDoneOf } from '../../../src/core/session/day-figures.ts';
import { measureAndJudge } from '../../../src/core/session/build-session.ts';
import type { SetFindings } from '../../../src/core/session/session-record.ts';
import { summariseSet } from '../../../src/core/session/summary.ts';
import { curlFilm, holdFilm, sampleHeader } from './sample-session.ts';

const { thresholds } = sampleHeader();

function findings(film: ReturnType<typeof curlFilm>, exercise: 'hold' | 'body-curl'): SetFindings {
  return measureAndJudge(film, sampleHeader(exercise).settings, thresholds).findings;
}

const holds = findings(holdFilm(8), 'hold');
const curls = findings(curlFilm(16), 'body-curl');

function means(
  of: SetFindings,
  changes: readonly { partial?: boolean; loweringSeconds?: number; shoulderDominant?: boolean | null }[],
): SetFindings {
  const repetitions = of.judgement.repetitions.map((repetition, index) => ({
    ...repetition,
    ...changes[index],
  }));
  return { ...of, judgement: { ...of.judgement, repetitions } };
}

describe('what a training day keeps of a measured set', () => {
  it('of holds: time in the range, angle, and the most that the hand rose', () => {
    const done = measuredDoneOf(holds, 'hold');
    expect(done.heldSeconds).toBe(summariseSet(holds).holdInRangeSeconds);
    expect(done.heldSeconds).toBeGreaterThan(6);
    expect(done.timeUnderTensionSeconds).toBe(done.heldSeconds);
    expect(done.meanHoldDeg).toBeGreaterThan(80);
    expect(done.inRangeShare).toBeGreaterThan(0.8);
    const rises = [0.05, 0.3, 0.1];
    const [hold] = holds.judgement.holds;
    if (!hold) throw new Error('No hold was found.');
    const rising = rises.map((value) => ({ ...hold, handRiseUpperArms: { value, low: 0, high: 1 } }));
    expect(
      measuredDoneOf({ ...holds, judgement: { holds: rising, repetitions: [] } }, 'hold').handRoseUpperArms,
    ).toBe(0.3);
    expect(done).toMatchObject({ repetitions: null, loweringSeconds: null, elbowImpulseNms: null });
  });

  it('of holds of unequal length the angle is that of the time, not of the holds', () => {
    const [hold] = holds.judgement.holds;
    if (!hold) throw new Error('No hold was found.');
    const at = (value: number, inRangeSeconds: number): typeof hold => ({
      ...hold,
      inRangeSeconds,
      meanFlexionDeg: { value, low: value, high: value },
    });
    const two = { ...holds, judgement: { holds: [at(80, 10), at(95, 20)], repetitions: [] } };
    expect(measuredDoneOf(two, 'hold')).toMatchObject({ heldSeconds: 30, meanHoldDeg: 90 });
  });

  it('of repetitions: full ones counted, partial ones apart, means over the full ones', () => {
    expect(curls.judgement.repetitions).toHaveLength(4);
    const some = means(curls, [
      { partial: true, loweringSeconds: 0.5 },
      { loweringSeconds: 2, shoulderDominant: true },
      { loweringSeconds: 3, shoulderDominant: null },
      { loweringSeconds: 4, shoulderDominant: false },
    ]);
    const done = measuredDoneOf(some, 'repetitions');
    expect(done).toMatchObject({
      repetitions: 3,
      partialRepetitions: 1,
      loweringSeconds: 3,
      shoulderDominant: 1,
      judgedRepetitions: 2,
      heldSeconds: null,
    });
    const ranges = some.judgement.repetitions
      .slice(1)
      .map(({ rangeDeg }) => (isMeasured(rangeDeg) ? rangeDeg.value : NaN));
    expect(done.rangeDeg).toBeCloseTo(ranges.reduce((sum, value) => sum + value, 0) / 3);
  });

  it('of repetitions: time under tension from the onset of bending to the end of lowering, partial ones too', () => {
    const spans = curls.judgement.repetitions.map(
      ({ startSeconds, endSeconds }) => endSeconds - startSeconds,
    );
    expect(measuredDoneOf(curls, 'repetitions').timeUnderTensionSeconds).toBeCloseTo(
      spans.reduce((sum, seconds) => sum + seconds, 0),
      1,
    );
  });

  it('of a set in which nothing was seen: nothing, and not zero', () => {
    const unseen = findings([], 'body-curl');
    for (const kind of ['hold', 'repetitions'] as const)
      expect(Object.values(measuredDoneOf(unseen, kind)).every((value) => value === null)).toBe(true);
  });

  it('of a set that was seen and in which nothing was done: zero', () => {
    const still = findings(holdFilm(6), 'body-curl');
    expect(measuredDoneOf(still, 'repetitions')).toMatchObject({ repetitions: 0, loweringSeconds: null });
  });

  it('keeps the impulse that it is given', () => {
    const impulse = { value: 300, least: 200, most: 400 };
    expect(measuredDoneOf(holds, 'hold', impulse).elbowImpulseNms).toEqual(impulse);
  });
});
