/** Half-width of a 95 % interval in standard deviations of a normal distribution. */
const Z95 = 1.96;

/**
 * So many differences between sessions that follow each other are asked for before a person's own scatter is believed. With
 * ten, the standard deviation lies within 0.70 to 1.75 times what was found (95 %, chi-squared with 10 degrees of freedom:
 * 3.25 and 20.48). That this is enough is chosen for this tool; no published source.
 */
export const ENOUGH_DIFFERENCES = 10;

/**
 * Standard error of measurement of one session from a person's own repeated sessions, in the unit of the values: the
 * within-subject standard deviation of pairs, sqrt(sum of squared differences / (2 n)) (Bland and Altman 1996, BMJ 313:744,
 * from memory; the square root of the error mean square as in Weir 2005, J Strength Cond Res 19:231-240). The pairs are
 * sessions that follow each other, so that a slow true change adds little to it. Null with fewer than ENOUGH_DIFFERENCES.
 */
export function ownStandardError(values: readonly number[]): number | null {
  const differences = values.slice(1).map((value, index) => value - (values[index] ?? value));
  if (differences.length < ENOUGH_DIFFERENCES) return null;
  const squares = differences.reduce((sum, difference) => sum + difference ** 2, 0);
  return Math.sqrt(squares / (2 * differences.length));
}

/** Least detectable change (95 %) of a standard error of measurement: 1.96 sqrt(2) SEM (Weir 2005), in the same unit. */
export function detectableChange(standardError: number): number {
  return Z95 * Math.SQRT2 * standardError;
}
