import { clamp } from '../math/statistics.ts';
import { profile, PROFILE_SHAPES, type ProfileShape } from './movement-profile.ts';

/** A flexion at its time. */
export interface FitPoint {
  readonly timeSeconds: number;
  readonly flexionDeg: number;
}

/** Where the phases of a repetition begin and end, seconds, in order; top start and lowering start may coincide. */
export interface PhaseMarks {
  readonly bendingStartSeconds: number;
  readonly topStartSeconds: number;
  readonly loweringStartSeconds: number;
  readonly loweringEndSeconds: number;
}

/** Phases with the levels between them and how far the trace strays from the model, degrees. */
export interface PhaseFit extends PhaseMarks {
  readonly startDeg: number;
  readonly topDeg: number;
  readonly endDeg: number;
  readonly residualSdDeg: number;
}

/** A movement that reaches into the window: when it is half way, and the level at its far end. */
export interface Neighbour {
  readonly midSeconds: number;
  readonly farDeg: number;
}

/** What is fitted: the trace from half way of the movement before to half way of the movement after. */
export interface PhaseProblem {
  readonly points: readonly FitPoint[];
  readonly guess: PhaseMarks;
  /** The lowering before and the bending after, null where the window has none. */
  readonly before: Neighbour | null;
  readonly after: Neighbour | null;
}

/** A trace is averaged in this many bins at most: more changes nothing but the time it takes. */
const MOST_BINS = 120;
const SHORTEST_MOVEMENT_SECONDS = 0.1;
const ROUNDS = 12;
const STEP_SECONDS = 0.01;
/** Neighbouring samples share their noise; about so many count as one independent one. */
const SAMPLES_PER_INDEPENDENT = 6;

/** Shapes of bending, of lowering. */
type Shapes = readonly [ProfileShape, ProfileShape];

/**
 * Durations in order: plateau before (from the end of the lowering before), bending, top, lowering, plateau after.
 * `start` is the onset of bending.
 */
interface Parameters {
  readonly start: number;
  readonly restBefore: number;
  readonly bending: number;
  readonly top: number;
  readonly lowering: number;
  readonly restAfter: number;
}

interface Evaluation {
  readonly residuals: Float64Array;
  readonly sumOfSquares: number;
  readonly levels: readonly [number, number, number];
}

/**
 * Fits plateau, bending, plateau, lowering, plateau by least squares, with free times, free levels and the shape of
 * each movement chosen from PROFILE_SHAPES; plateaus may vanish, then a phase runs from turning point to turning point.
 * Onset and end are thus those of the whole movement, not crossings of a share of the range, and use all samples, so
 * that noise of a few degrees moves them little. Times of several shapes are averaged by their likelihood.
 *
 * Levenberg (1944), Marquardt (1963); the levels are linear and are solved for at each step (variable projection,
 * Golub and Pereyra 1973). Null with fewer than six points.
 */
export function fitPhases(problem: PhaseProblem): PhaseFit | null {
  const points = binned(problem.points);
  if (points.length < 6) return null;
  const task = { ...problem, points };
  let shapes: Shapes = [2, 2];
  let best = descend(task, initial(task), shapes);
  const tried: { shapes: Shapes; fit: Descent }[] = [{ shapes, fit: best }];
  for (const which of [1, 0, 1] as const) {
    for (const shape of PROFILE_SHAPES) {
      const next: Shapes = which === 0 ? [shape, shapes[1]] : [shapes[0], shape];
      if (tried.some((entry) => entry.shapes[0] === next[0] && entry.shapes[1] === next[1])) continue;
      tried.push({ shapes: next, fit: descend(task, best.parameters, next) });
    }
    for (const entry of tried) {
      if (entry.fit.evaluation.sumOfSquares < best.evaluation.sumOfSquares) ({ shapes, fit: best } = entry);
    }
  }
  return averaged(
    tried.map(({ fit }) => fit),
    best,
    points.length,
  );
}

interface Descent {
  readonly parameters: Parameters;
  readonly evaluation: Evaluation;
}

/** Times of all tried shapes, each weighted by the likelihood of its residuals. */
function averaged(fits: readonly Descent[], best: Descent, count: number): PhaseFit {
  const least = Math.max(best.evaluation.sumOfSquares, 1e-9);
  const independent = Math.max(1, count / SAMPLES_PER_INDEPENDENT);
  let weights = 0;
  const sums = { start: 0, bending: 0, top: 0, lowering: 0 };
  for (const { parameters, evaluation } of fits) {
    const weight = Math.exp((-independent / 2) * Math.log(Math.max(evaluation.sumOfSquares, 1e-9) / least));
    weights += weight;
    sums.start += weight * parameters.start;
    sums.bending += weight * parameters.bending;
    sums.top += weight * parameters.top;
    sums.lowering += weight * parameters.lowering;
  }
  const bendingStartSeconds = sums.start / weights;
  const topStartSeconds = bendingStartSeconds + sums.bending / weights;
  const loweringStartSeconds = topStartSeconds + sums.top / weights;
  const [startDeg, topDeg, endDeg] = best.evaluation.levels;
  return {
    bendingStartSeconds,
    topStartSeconds,
    loweringStartSeconds,
    loweringEndSeconds: loweringStartSeconds + sums.lowering / weights,
    startDeg,
    topDeg,
    endDeg,
    residualSdDeg: Math.sqrt(best.evaluation.sumOfSquares / count),
  };
}

function binned(points: readonly FitPoint[]): FitPoint[] {
  const size = Math.ceil(points.length / MOST_BINS);
  if (size <= 1) return [...points];
  const bins: FitPoint[] = [];
  for (let i = 0; i < points.length; i += size) {
    const bin = points.slice(i, i + size);
    const sum = (pick: (point: FitPoint) => number): number =>
      bin.reduce((all, point) => all + pick(point), 0);
    bins.push({
      timeSeconds: sum((point) => point.timeSeconds) / bin.length,
      flexionDeg: sum((point) => point.flexionDeg) / bin.length,
    });
  }
  return bins;
}

function initial({ guess, before, after }: PhaseProblem): Parameters {
  const {
    bendingStartSeconds: a,
    topStartSeconds: b,
    loweringStartSeconds: c,
    loweringEndSeconds: d,
  } = guess;
  return bounded({
    start: a,
    restBefore: before ? (a - before.midSeconds) / 2 : 0,
    bending: b - a,
    top: c - b,
    lowering: d - c,
    restAfter: after ? (after.midSeconds - d) / 2 : 0,
  });
}

function bounded(p: Parameters): Parameters {
  return {
    start: p.start,
    restBefore: Math.max(0, p.restBefore),
    bending: Math.max(SHORTEST_MOVEMENT_SECONDS, p.bending),
    top: Math.max(0, p.top),
    lowering: Math.max(SHORTEST_MOVEMENT_SECONDS, p.lowering),
    restAfter: Math.max(0, p.restAfter),
  };
}

const NAMES = ['start', 'restBefore', 'bending', 'top', 'lowering', 'restAfter'] as const;

function freeNames({ before, after }: PhaseProblem): (typeof NAMES)[number][] {
  return NAMES.filter(
    (name) => (name !== 'restBefore' || before !== null) && (name !== 'restAfter' || after !== null),
  );
}

function descend(problem: PhaseProblem, from: Parameters, shapes: Shapes): Descent {
  const names = freeNames(problem);
  let parameters = from;
  let evaluation = evaluate(problem, parameters, shapes);
  let damping = 1e-2;
  for (let round = 0; round < ROUNDS; round++) {
    const columns = names.map((name) => {
      const moved = evaluate(problem, { ...parameters, [name]: parameters[name] + STEP_SECONDS }, shapes);
      return moved.residuals.map((r, i) => (r - (evaluation.residuals[i] ?? 0)) / STEP_SECONDS);
    });
    let improved = false;
    for (let attempt = 0; attempt < 5 && !improved; attempt++) {
      const step = dampedStep(columns, evaluation.residuals, damping);
      const next: Record<(typeof NAMES)[number], number> = { ...parameters };
      names.forEach((name, i) => {
        next[name] += clamp(step[i] ?? 0, -0.7, 0.7);
      });
      const trial = bounded(next);
      const tried = evaluate(problem, trial, shapes);
      if (tried.sumOfSquares < evaluation.sumOfSquares) {
        const gain = 1 - tried.sumOfSquares / evaluation.sumOfSquares;
        parameters = trial;
        evaluation = tried;
        damping = Math.max(1e-6, damping / 4);
        improved = true;
        if (gain < 1e-4) return { parameters, evaluation };
      } else damping *= 8;
    }
    if (!improved) break;
  }
  return { parameters, evaluation };
}

/** Model: flexion = sum of levels times their shares + what the neighbours' far levels add. */
function evaluate(
  { points, before, after }: PhaseProblem,
  p: Parameters,
  [bendShape, lowerShape]: Shapes,
): Evaluation {
  const topStart = p.start + p.bending;
  const lowerStart = topStart + p.top;
  const lowerEnd = lowerStart + p.lowering;
  const beforeEnd = p.start - p.restBefore;
  const afterStart = lowerEnd + p.restAfter;
  const normal = [0, 0, 0, 0, 0, 0];
  const right = [0, 0, 0];
  const n = points.length;
  const shares = new Float64Array(3 * n);
  const residuals = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const { timeSeconds: t, flexionDeg } = points[i] ?? { timeSeconds: 0, flexionDeg: 0 };
    const bent = profile(bendShape, (t - p.start) / p.bending);
    const lowered = profile(lowerShape, (t - lowerStart) / p.lowering);
    const fromBefore = before && t < beforeEnd ? tailShare(beforeEnd - t, beforeEnd - before.midSeconds) : 0;
    const intoAfter = after && t > afterStart ? tailShare(t - afterStart, after.midSeconds - afterStart) : 0;
    const s0 = 1 - bent - fromBefore;
    const s1 = bent - lowered;
    const s2 = lowered - intoAfter;
    const y = flexionDeg - fromBefore * (before?.farDeg ?? 0) - intoAfter * (after?.farDeg ?? 0);
    shares[3 * i] = s0;
    shares[3 * i + 1] = s1;
    shares[3 * i + 2] = s2;
    residuals[i] = y;
    normal[0] = (normal[0] ?? 0) + s0 * s0;
    normal[1] = (normal[1] ?? 0) + s0 * s1;
    normal[2] = (normal[2] ?? 0) + s0 * s2;
    normal[3] = (normal[3] ?? 0) + s1 * s1;
    normal[4] = (normal[4] ?? 0) + s1 * s2;
    normal[5] = (normal[5] ?? 0) + s2 * s2;
    right[0] = (right[0] ?? 0) + s0 * y;
    right[1] = (right[1] ?? 0) + s1 * y;
    right[2] = (right[2] ?? 0) + s2 * y;
  }
  const [a, b, c, d, e, f] = normal;
  const levels = solve(
    [
      [(a ?? 0) + 1e-9, b ?? 0, c ?? 0],
      [b ?? 0, (d ?? 0) + 1e-9, e ?? 0],
      [c ?? 0, e ?? 0, (f ?? 0) + 1e-9],
    ],
    right,
  );
  const [l0 = 0, l1 = 0, l2 = 0] = levels;
  let sumOfSquares = 0;
  for (let i = 0; i < n; i++) {
    const modelled =
      (shares[3 * i] ?? 0) * l0 + (shares[3 * i + 1] ?? 0) * l1 + (shares[3 * i + 2] ?? 0) * l2;
    const r = (residuals[i] ?? 0) - modelled;
    residuals[i] = r;
    sumOfSquares += r * r;
  }
  return { residuals, sumOfSquares, levels: [l0, l1, l2] };
}

/** Share of a neighbouring movement that is done so long past its near end, when half of it takes halfSeconds. */
function tailShare(pastSeconds: number, halfSeconds: number): number {
  return profile(2, pastSeconds / Math.max(2 * SHORTEST_MOVEMENT_SECONDS, 2 * halfSeconds));
}

function dampedStep(columns: readonly Float64Array[], residuals: Float64Array, damping: number): number[] {
  const matrix = columns.map((u, i) =>
    columns.map((v, j) => {
      let sum = 0;
      for (let k = 0; k < u.length; k++) sum += (u[k] ?? 0) * (v[k] ?? 0);
      return i === j ? sum * (1 + damping) + 1e-6 : sum;
    }),
  );
  const right = columns.map((u) => {
    let sum = 0;
    for (let k = 0; k < u.length; k++) sum -= (u[k] ?? 0) * (residuals[k] ?? 0);
    return sum;
  });
  return solve(matrix, right);
}

/** Solves a symmetric positive system by elimination with pivots; a singular direction gives 0. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const n = right.length;
  const rows = matrix.map((row, i) => [...row, right[i] ?? 0]);
  for (let col = 0; col < n; col++) {
    let pivot = col;
    for (let r = col + 1; r < n; r++) {
      if (Math.abs(rows[r]?.[col] ?? 0) > Math.abs(rows[pivot]?.[col] ?? 0)) pivot = r;
    }
    const pivotRow = rows[pivot];
    const swapped = rows[col];
    if (!pivotRow || !swapped) continue;
    rows[pivot] = swapped;
    rows[col] = pivotRow;
    const head = pivotRow[col] ?? 0;
    if (Math.abs(head) < 1e-12) continue;
    for (let r = col + 1; r < n; r++) {
      const row = rows[r];
      if (!row) continue;
      const factor = (row[col] ?? 0) / head;
      for (let k = col; k <= n; k++) row[k] = (row[k] ?? 0) - factor * (pivotRow[k] ?? 0);
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let r = n - 1; r >= 0; r--) {
    const row = rows[r];
    let sum = row?.[n] ?? 0;
    for (let k = r + 1; k < n; k++) sum -= (row?.[k] ?? 0) * (x[k] ?? 0);
    const head = row?.[r] ?? 0;
    x[r] = Math.abs(head) < 1e-12 ? 0 : sum / head;
  }
  return x;
}
