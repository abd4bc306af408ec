import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { recomputeSet } from '../../../src/core/session/build-session.ts';
import { followsFromLandmarks } from '../../../src/core/session/follows-from-landmarks.ts';
import { readRecord } from '../../../src/core/session/migrations.ts';
import {
  findingsOf,
  type SessionRecord,
  type SetFindings,
} from '../../../src/core/session/session-record.ts';

const FOLDER = new URL('../../fixtures/records/', import.meta.url);

function recordOf(name: string): SessionRecord {
  const reading = readRecord(readFileSync(new URL(name, FOLDER), 'utf8'));
  if (!reading.ok) throw new Error(reading.problem.kind);
  return reading.record;
}

/** What a record of this version says of its first set, and what its landmarks give. */
function firstSet(): { kept: SetFindings; again: SetFindings } {
  const record = recordOf('v6-body-curl.record.json');
  const [set] = record.sets;
  if (set === undefined) throw new Error('The sample has no set.');
  return { kept: findingsOf(set), again: recomputeSet(record, 0).findings };
}

describe('the figures of a set', () => {
  it.each(readdirSync(FOLDER))(
    'follow from the landmarks of %s, which an earlier version may have judged',
    (name) => {
      const record = recordOf(name);
      for (const [index, set] of record.sets.entries())
        expect(followsFromLandmarks(findingsOf(set), recomputeSet(record, index).findings)).toBe(true);
    },
  );

  it('do not when a repetition was taken out, added, or called what it is not', () => {
    const { kept, again } = firstSet();
    const [first, ...others] = kept.judgement.repetitions;
    if (first === undefined) throw new Error('The sample has no repetition.');
    const withRepetitions = (repetitions: typeof others): SetFindings => ({
      ...kept,
      judgement: { ...kept.judgement, repetitions },
    });
    expect(followsFromLandmarks(withRepetitions(others), again)).toBe(false);
    expect(followsFromLandmarks(withRepetitions([first, first, ...others]), again)).toBe(false);
    const row = { ...first, shoulderDominant: first.shoulderDominant !== true };
    expect(followsFromLandmarks(withRepetitions([row, ...others]), again)).toBe(false);
  });

  it('do not when the elbow is said to have bent much further', () => {
    const { kept, again } = firstSet();
    const elbowFlexion = kept.elbowFlexion && {
      ...kept.elbowFlexion,
      mostDeg: kept.elbowFlexion.mostDeg + 11,
    };
    expect(followsFromLandmarks({ ...kept, elbowFlexion }, again)).toBe(false);
  });
});
