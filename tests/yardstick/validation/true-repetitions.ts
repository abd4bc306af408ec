import { distance } from '../../../demo-clips/generator/vector.ts';
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

/** Largest distance of the true mid-shoulder from where it was at the repetition's start. */
export function trueTravelCm({ startS, endS }: TrueRepetition, truths: readonly TruthFrame[]): number {
  const during = truths.filter(({ timeSeconds }) => timeSeconds >= startS && timeSeconds <= endS);
  const [first] = during;
  if (first === undefined) return 0;
  return Math.max(...during.map(({ midShoulderM }) => 100 * distance(midShoulderM, first.midShoulderM)));
}
