/** A share with its 95 % interval. */
export interface ShareOf {
  readonly hits: number;
  readonly of: number;
  readonly low: number;
  readonly high: number;
}

/** Two-sided 95 % of a normal distribution. */
const Z95 = 1.959964;

/**
 * How often something was so, with the score interval of a proportion: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927)
 * 209-212. The interval is 0 to 1 where nothing was seen.
 */
export function wilsonShare(seen: readonly boolean[]): ShareOf {
  const of = seen.length;
  const hits = seen.filter((isSo) => isSo).length;
  if (of === 0) return { hits, of, low: 0, high: 1 };
  const share = hits / of;
  const middle = (share + Z95 ** 2 / (2 * of)) / (1 + Z95 ** 2 / of);
  const half = (Z95 / (1 + Z95 ** 2 / of)) * Math.sqrt((share * (1 - share)) / of + Z95 ** 2 / (4 * of * of));
  return { hits, of, low: Math.max(0, middle - half), high: Math.min(1, middle + half) };
}
