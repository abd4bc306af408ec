import { describe, expect, it } from 'vitest';
import type { Repetition } from '../../../src/core/exercises/judgement.ts';
import { measureAndJudge } from '../../../src/core/session/build-session.ts';
import type { SetFindings } from '../../../src/core/session/session-record.ts';
import { summariseSession, summariseSet } from '../../../src/core/session/summary.ts';
import { curlFilm, holdFilm, sampleHeader } from './sample-session.ts';

function findings(
  film: ReturnType<typeof curlFilm>,
  exercise: 'hold' | 'free-curl' | 'body-curl',
): SetFindings {
  const { settings, thresholds } = sampleHeader(exercise);
  return measureAndJudge(film, settings, thresholds).findings;
}

const curls = findings(curlFilm(16), 'body-curl');

/** The same set with some repetitions judged otherwise. */
function rejudged(
  change: (index: number) => Partial<Pick<Repetition, 'partial' | 'shoulderDominant' | 'flags'>>,
): SetFindings {
  const repetitions = curls.judgement.repetitions.map((repetition, index) => ({
    ...repetition,
    ...change(index),
  }));
  return { ...curls, judgement: { ...curls.judgement, repetitions } };
}

describe('a set in figures', () => {
  it('counts partial repetitions apart, shoulder-dominant ones among the full', () => {
    const judged = rejudged((index) => ({ partial: index === 0, shoulderDominant: index === 2 }));
    expect(summariseSet(judged)).toMatchObject({
      repetitions: 3,
      partialRepetitions: 1,
      shoulderDominantRepetitions: 1,
    });
  });

  it('does not say "none" for shoulder-dominant repetitions when none could be judged', () => {
    expect(summariseSet(rejudged(() => ({ shoulderDominant: null }))).shoulderDominantRepetitions).toBeNull();
    const some = rejudged((index) => ({ shoulderDominant: index === 0 ? false : null }));
    expect(summariseSet(some).shoulderDominantRepetitions).toBe(0);
  });

  it('takes medians over the full repetitions only', () => {
    const lowering = curls.judgement.repetitions.map(({ loweringSeconds }) => loweringSeconds).slice(1, 4);
    const judged = rejudged((index) => ({ partial: index === 0 }));
    const [, middle] = lowering.sort((a, b) => a - b);
    expect(summariseSet(judged).loweringSecondsMedian).toBe(middle);
  });

  it('has nothing to say of a set in which nothing was measured', () => {
    expect(summariseSet(findings([], 'body-curl'))).toEqual({
      repetitions: 0,
      partialRepetitions: 0,
      shoulderDominantRepetitions: 0,
      judgedRepetitions: 0,
      holds: 0,
      holdInRangeSeconds: 0,
      totalSeconds: 0,
      measuredShare: null,
      elbowMinDeg: null,
      elbowMaxDeg: null,
      torsoTravelCmMedian: null,
      torsoTravelUpperArmsMedian: null,
      loweringSecondsMedian: null,
      flagged: {},
    });
  });

  it('counts the repetitions in which something was noticed, not how often within one', () => {
    const seen = (kind: 'hip-sag' | 'trunk-sway', startSeconds: number) => ({
      kind,
      startSeconds,
      endSeconds: startSeconds + 0.5,
      evidenceSeconds: [startSeconds],
    });
    const judged = rejudged((index) => ({
      flags:
        index === 0
          ? [seen('hip-sag', 1), seen('hip-sag', 2)]
          : index === 1
            ? [seen('hip-sag', 5), seen('trunk-sway', 5)]
            : [],
    }));
    expect(summariseSet(judged).flagged).toEqual({ 'hip-sag': 2, 'trunk-sway': 1 });
  });
});

describe('a session in figures', () => {
  it('adds counts and times, and weighs the measured share by time', () => {
    const unseen = { totalSeconds: 30, share: 0, notMeasuredSeconds: { nobody: 30 } };
    const sets = [
      findings(holdFilm(6), 'hold'),
      { ...findings(holdFilm(5, 92), 'hold'), measuredTime: unseen },
    ];
    const { whole, sets: each } = summariseSession(sets);
    expect(whole.holds).toBe(2);
    expect(whole.holdInRangeSeconds).toBeCloseTo(
      (each[0]?.holdInRangeSeconds ?? 0) + (each[1]?.holdInRangeSeconds ?? 0),
    );
    const first = sets[0]?.measuredTime;
    expect(whole.measuredShare).toBeCloseTo(
      ((first?.share ?? 0) * (first?.totalSeconds ?? 0)) / whole.totalSeconds,
    );
    expect(whole.measuredShare).toBeLessThan(0.2);
    expect(whole.elbowMinDeg).toBe(Math.min(each[0]?.elbowMinDeg ?? NaN, each[1]?.elbowMinDeg ?? NaN));
  });
});
