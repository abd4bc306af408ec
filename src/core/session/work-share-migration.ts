import type { JsonObject } from '../documents/stepwise-migration.ts';

/**
 * For version 3: curl or row is decided by the shoulder's share of the work, no longer by votes of the indicators. Older
 * judgements keep what they said; their share of the work was not worked out. What a plan had set for the votes is dropped.
 */
export function withWorkShare(record: JsonObject): JsonObject {
  const { thresholds, sets } = record;
  return {
    ...record,
    ...(isObject(thresholds) ? { thresholds: withThresholds(thresholds) } : {}),
    ...(Array.isArray(sets) ? { sets: sets.map(ofSet) } : {}),
  };
}

/** The defaults when version 3 came; not today's, should they change. */
const WORK_SHARE = { shoulderWorkShare: 0.5, workShareGreyZone: 0.15 };

function withThresholds(thresholds: JsonObject): JsonObject {
  const kept = Object.entries(thresholds).filter(
    ([name]) => name !== 'dominanceVotes' && name !== 'elbowMomentShare',
  );
  return { ...Object.fromEntries(kept), ...WORK_SHARE };
}

function ofSet(set: unknown): unknown {
  if (!isObject(set) || !isObject(set['judgement'])) return set;
  const { judgement } = set;
  const { repetitions } = judgement;
  if (!Array.isArray(repetitions)) return set;
  return { ...set, judgement: { ...judgement, repetitions: repetitions.map(ofRepetition) } };
}

function ofRepetition(repetition: unknown): unknown {
  if (!isObject(repetition) || !isObject(repetition['row'])) return repetition;
  return {
    ...repetition,
    row: { ...repetition['row'], shoulderWorkShare: { notMeasured: 'not-applicable' } },
  };
}

function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
