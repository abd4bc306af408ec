import type { Repetition } from '../exercises/judgement.ts';
import { valueOf } from '../kinematics/measured.ts';
import { median } from '../math/statistics.ts';

/** What a repetition is compared in with the others of its set. */
const COMPARED = ['range', 'bending', 'lowering'] as const;
export type Compared = (typeof COMPARED)[number];

/** How far a repetition may lie from the others, in median absolute deviations scaled to a standard deviation: Leys et al. 2013, J Exp Soc Psychol 49:764, who call three "very conservative". From memory. */
const MOST_DEVIATIONS = 3;
/** A median absolute deviation times this is a standard deviation where values are spread normally (same source). */
const AS_STANDARD_DEVIATION = 1.4826;
/** With fewer there is no telling which is the odd one. Chosen for this tool. */
const FEWEST = 4;
/** Nearer than this is alike, however even the others are: whole degrees, seconds. Chosen for this tool; a single repetition's range and times err by about as much. */
const ALIKE: Readonly<Record<Compared, number>> = { range: 10, bending: 0.5, lowering: 0.5 };

const VALUES: Readonly<Record<Compared, (repetition: Repetition) => number | null>> = {
  range: ({ rangeDeg }) => valueOf(rangeDeg),
  bending: ({ shorteningSeconds }) => shorteningSeconds,
  lowering: ({ loweringSeconds }) => loweringSeconds,
};

/**
 * In what each repetition of a set is unlike the others, one list for each in order. Partial repetitions are compared with
 * the full ones as well, but do not say what is usual.
 */
export function unlikeOthers(repetitions: readonly Repetition[]): Compared[][] {
  const full = repetitions.filter(({ partial }) => !partial);
  return repetitions.map((repetition) =>
    full.length < FEWEST ? [] : COMPARED.filter((what) => isFar(repetition, full, what)),
  );
}

function isFar(repetition: Repetition, full: readonly Repetition[], what: Compared): boolean {
  const value = VALUES[what](repetition);
  const values = full.flatMap((one) => VALUES[what](one) ?? []);
  const usual = median(values);
  if (value === null || usual === null || values.length < FEWEST) return false;
  const spread = median(values.map((one) => Math.abs(one - usual))) ?? 0;
  const most = Math.max(ALIKE[what], MOST_DEVIATIONS * AS_STANDARD_DEVIATION * spread);
  return Math.abs(value - usual) > most;
}
