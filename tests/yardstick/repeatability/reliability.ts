/** How alike repeated measurements of the same thing are, in their unit. */
export interface Reliability {
  /** Things that were measured at least twice. */
  readonly targets: number;
  readonly measurements: number;
  readonly mean: number;
  /** Standard deviation between the targets, the scatter within them taken off. */
  readonly betweenSd: number;
  /** Standard error of measurement: standard deviation within a target, systematic differences of the repeats in it. */
  readonly sem: number;
  /** Intraclass correlation of a single measurement, form (1,1): every target has repeats of its own. */
  readonly icc: number;
  /** A change between two measurements has to be larger than this to be more than chance, 95 %. */
  readonly mdc95: number;
}

/**
 * Least detectable change over the standard error of measurement: 1.96 times the square root of 2. Two measurements
 * differ by chance with that root times the error of one. Source: J. P. Weir, Quantifying test-retest reliability using
 * the intraclass correlation coefficient and the SEM, J Strength Cond Res 19 (2005) 231-240.
 */
export const MDC95_OVER_SEM = 1.96 * Math.SQRT2;

const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);

/**
 * One-way analysis of variance of repeated measurements, a list for each target; targets measured once say nothing and
 * are left out. Null with fewer than two targets. The repeats of a target are drawn for it alone (its own cameras, its
 * own noise), which is case 1 of P. E. Shrout, J. L. Fleiss, Intraclass correlations: uses in assessing rater
 * reliability, Psychol Bull 86 (1979) 420-428: ICC(1,1) = (BMS - WMS) / (BMS + (k - 1) WMS). For unequal numbers of
 * repeats k is (N - sum of k squared / N) / (targets - 1), from memory of the standard formula. SEM is the root of WMS.
 */
export function reliability(measured: readonly (readonly number[])[]): Reliability | null {
  const targets = measured.filter((repeats) => repeats.length > 1);
  if (targets.length < 2) return null;
  const all = targets.flat();
  const mean = sumOf(all) / all.length;
  const own = targets.map((repeats) => ({ repeats, mean: sumOf(repeats) / repeats.length }));
  const between = sumOf(own.map((target) => target.repeats.length * (target.mean - mean) ** 2));
  const within = sumOf(own.flatMap((target) => target.repeats.map((value) => (value - target.mean) ** 2)));
  const betweenMs = between / (targets.length - 1);
  const withinMs = within / (all.length - targets.length);
  const k =
    (all.length - sumOf(targets.map(({ length }) => length ** 2)) / all.length) / (targets.length - 1);
  const sem = Math.sqrt(withinMs);
  return {
    targets: targets.length,
    measurements: all.length,
    mean,
    betweenSd: Math.sqrt(Math.max(0, (betweenMs - withinMs) / k)),
    sem,
    icc: (betweenMs - withinMs) / (betweenMs + (k - 1) * withinMs),
    mdc95: MDC95_OVER_SEM * sem,
  };
}
