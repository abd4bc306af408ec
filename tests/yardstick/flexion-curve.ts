/** Values that were seen at an angle of the elbow. */
export interface Knot {
  readonly flexionDeg: number;
  readonly values: readonly number[];
}

/** Knots closer than this are one, their mean: pictures of the same posture differ by chance only. */
const MERGE_DEG = 2;

/**
 * Several values as smooth functions of elbow flexion through the knots, constant beyond the first and last: piecewise
 * cubic, without overshoot between knots. All knots have as many values.
 * Source: F. N. Fritsch, J. Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM J. Sci.
 * Stat. Comput. 5 (1984), from memory: slopes are the weighted harmonic mean of the neighbouring secants.
 * @throws Error without a knot.
 */
export function flexionCurve(knots: readonly Knot[]): (flexionDeg: number) => number[] {
  const merged = mergeKnots(knots);
  const slopes = merged.map((_, index) => slopesAt(merged, index));
  const last = merged.length - 1;
  return (flexionDeg) => {
    const after = merged.findIndex((knot) => knot.flexionDeg > flexionDeg);
    const right = merged[after];
    const left = merged[after === -1 ? last : after - 1];
    if (left === undefined || right === undefined) return [...((left ?? right)?.values ?? [])];
    const width = right.flexionDeg - left.flexionDeg;
    const u = (flexionDeg - left.flexionDeg) / width;
    const fromLeft = slopes[after - 1] ?? [];
    const fromRight = slopes[after] ?? [];
    return left.values.map((value, k) => {
      const rise = (right.values[k] ?? 0) - value;
      const [a, b] = [(fromLeft[k] ?? 0) * width, (fromRight[k] ?? 0) * width];
      return value + u * (a + u * (3 * rise - 2 * a - b + u * (a + b - 2 * rise)));
    });
  };
}

function mergeKnots(knots: readonly Knot[]): Knot[] {
  if (knots.length === 0) throw new Error('flexionCurve: there is no knot.');
  const groups: Knot[][] = [];
  for (const knot of knots.toSorted((a, b) => a.flexionDeg - b.flexionDeg)) {
    const group = groups.at(-1);
    const first = group?.[0];
    if (group !== undefined && first !== undefined && knot.flexionDeg - first.flexionDeg < MERGE_DEG)
      group.push(knot);
    else groups.push([knot]);
  }
  return groups.map(meanKnot);
}

function meanKnot(group: readonly Knot[]): Knot {
  const mean = (valueOf: (knot: Knot) => number): number =>
    group.reduce((sum, knot) => sum + valueOf(knot), 0) / group.length;
  return {
    flexionDeg: mean((knot) => knot.flexionDeg),
    values: (group[0]?.values ?? []).map((_, k) => mean((knot) => knot.values[k] ?? 0)),
  };
}

/** Slope of each value at a knot, per degree; 0 at the ends, where the curve goes on level. */
function slopesAt(knots: readonly Knot[], index: number): number[] {
  const [before, here, after] = [knots[index - 1], knots[index], knots[index + 1]];
  if (here === undefined) return [];
  if (before === undefined || after === undefined) return here.values.map(() => 0);
  const toHere = here.flexionDeg - before.flexionDeg;
  const fromHere = after.flexionDeg - here.flexionDeg;
  const share = (toHere + 2 * fromHere) / (3 * (toHere + fromHere));
  return here.values.map((value, k) => {
    const first = (value - (before.values[k] ?? 0)) / toHere;
    const second = ((after.values[k] ?? 0) - value) / fromHere;
    if (first * second <= 0) return 0;
    return (first * second) / (share * second + (1 - share) * first);
  });
}
