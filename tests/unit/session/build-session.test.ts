import { describe, expect, it } from 'vitest';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { measureAndJudge, recomputeSet } from '../../../src/core/session/build-session.ts';
import { differences } from '../../../src/core/session/differences.ts';
import { readRecord } from '../../../src/core/session/migrations.ts';
import { asStored } from '../../../src/core/session/quantised-frames.ts';
import { findingsOf } from '../../../src/core/session/session-record.ts';
import { withPose } from '../../helpers/synthetic-body.ts';
import { curlFilm, holdFilm, recordOf, sampleHeader } from './sample-session.ts';

const CURL = sampleHeader('free-curl').settings;
const HOLD = sampleHeader('hold').settings;

describe('measuring and judging for the record', () => {
  it('counts the repetitions of a film of curls of four seconds', () => {
    const { findings } = measureAndJudge(curlFilm(20), CURL, DEFAULT_THRESHOLDS);
    expect(findings.judgement.repetitions.filter(({ partial }) => !partial)).toHaveLength(5);
    expect(findings.measuredTime.share).toBeGreaterThan(0.99);
    expect(findings.elbowFlexion?.leastDeg).toBeLessThan(20);
    expect(findings.elbowFlexion?.mostDeg).toBeGreaterThan(120);
  });

  it('judges what the record stores, not what the network said', () => {
    const frames = curlFilm(12);
    const raw = measureAndJudge(frames, CURL, DEFAULT_THRESHOLDS);
    const stored = measureAndJudge(asStored(frames), CURL, DEFAULT_THRESHOLDS);
    expect(stored.findings).toEqual(raw.findings);
    expect(raw.frames).toEqual(asStored(frames));
  });

  it('gives a phase for each frame', () => {
    const judged = measureAndJudge(holdFilm(6), HOLD, DEFAULT_THRESHOLDS);
    expect(judged.phases).toHaveLength(judged.frames.length);
    expect(judged.phases).toContain('in-range');
  });

  it('finds nothing in a set without a frame, and nothing where nobody was seen', () => {
    for (const frames of [[], curlFilm(3).map((frame) => withPose(frame, () => null))]) {
      const { findings } = measureAndJudge(frames, CURL, DEFAULT_THRESHOLDS);
      expect(findings.judgement).toEqual({ holds: [], repetitions: [] });
      expect(findings.elbowFlexion).toBeNull();
      expect(findings.measuredTime.share ?? 0).toBe(0);
    }
  });
});

describe('working a record out again', () => {
  it.each([
    ['curls', recordOf([curlFilm(16), curlFilm(9, 21)])],
    ['holds', recordOf([holdFilm(9), holdFilm(5, 70)], sampleHeader('hold'))],
    ['a body-moving curl', recordOf([curlFilm(16)], sampleHeader('body-curl'))],
  ])('gives exactly the same findings from the text of the record: %s', (_, record) => {
    const reading = readRecord(JSON.stringify(record));
    if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
    expect(reading.record).toEqual(record);
    for (const [index, set] of reading.record.sets.entries()) {
      const again = recomputeSet(reading.record, index).findings;
      expect(differences(findingsOf(set), again)).toEqual([]);
    }
  });

  it('follows the thresholds in the record, not those of today', () => {
    const record = recordOf([holdFilm(8, 78)], sampleHeader('hold'));
    expect(record.sets[0]?.judgement.holds).toHaveLength(0);
    const wide = { ...record, thresholds: { ...record.thresholds, toleranceDeg: 20 } };
    expect(recomputeSet(wide, 0).findings.judgement.holds).toHaveLength(1);
  });

  it('notices a judgement that does not belong to the frames', () => {
    const record = recordOf([holdFilm(8)], sampleHeader('hold'));
    const [set] = record.sets;
    if (set === undefined) throw new Error('no set');
    const [hold] = set.judgement.holds;
    if (hold === undefined) throw new Error('no hold');
    const forged = {
      ...findingsOf(set),
      judgement: { holds: [{ ...hold, inRangeSeconds: 30 }], repetitions: [] },
    };
    const found = differences(forged, recomputeSet(record, 0).findings);
    expect(found).toEqual([
      expect.stringMatching(/^judgement\.holds\.0\.inRangeSeconds: 30 in the record, /),
    ]);
  });
});
