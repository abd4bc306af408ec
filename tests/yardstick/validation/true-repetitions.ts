import type { Repetition } from '../../../src/core/exercises/judgement.ts';
import type { TruthFrame } from '../truth.ts';
import type { YardstickSet } from '../yardstick-set.ts';

/** A repetition as it truly was; seconds. */
export type TrueRepetition = YardstickSet['events']['repetitions'][number];

/** Repetitions and what was found of them, one by one; none where their numbers differ. */
export function pairsOf(
  truths: readonly TrueRepetition[],
  found: readonly Repetition[],
): (readonly [TrueRepetition, Repetition])[] {
  if (truths.length !== found.length) return [];
  return truths.flatMap((truth, i) => {
    const own = found[i];
    return own === undefined ? [] : [[truth, own] as const];
  });
}

/** Largest difference of the true travel from what it was at the repetition's start: along a path that goes out and back. */
export function trueTravelCm({ startS, endS }: TrueRepetition, truths: readonly TruthFrame[]): number {
  const during = truths.filter(({ timeSeconds }) => timeSeconds >= startS && timeSeconds <= endS);
  const [first] = during;
  return Math.max(
    0,
    ...during.map(({ torsoTravelCm }) => Math.abs(torsoTravelCm - (first?.torsoTravelCm ?? 0))),
  );
}
