import type { SetFindings } from './session-record.ts';
import { summariseSet } from './summary.ts';

/**
 * How far figures of a set may lie from what its landmarks give, before they are said not to follow from them. Records that
 * earlier versions of the judging made are off by at most 5 deg and 0.1 s in the kept samples; counts are the same in them.
 * Chosen for this tool; no published source.
 */
const MOST_OFF = { angleDeg: 10, timeSeconds: 1 } as const;

/**
 * Whether the figures that a record says of a set can come from its landmarks. Where they cannot, the file was changed since
 * it was recorded, or another version judged it quite otherwise; either way they are not to be relied on.
 * @param kept - what the record says
 * @param again - what judging its landmarks again gives
 */
export function followsFromLandmarks(kept: SetFindings, again: SetFindings): boolean {
  const [said, found] = [summariseSet(kept), summariseSet(again)];
  const counts = ['repetitions', 'partialRepetitions', 'shoulderDominantRepetitions', 'holds'] as const;
  const angles = ['elbowMinDeg', 'elbowMaxDeg'] as const;
  const times = ['holdInRangeSeconds', 'loweringSecondsMedian', 'totalSeconds'] as const;
  return (
    counts.every((name) => said[name] === found[name]) &&
    angles.every((name) => isNear(said[name], found[name], MOST_OFF.angleDeg)) &&
    times.every((name) => isNear(said[name], found[name], MOST_OFF.timeSeconds))
  );
}

function isNear(one: number | null, other: number | null, most: number): boolean {
  return one === null || other === null ? one === other : Math.abs(one - other) <= most;
}
