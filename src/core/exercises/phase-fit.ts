import { clamp } from '../math/statistics.ts';
import { solve } from './linear-system.ts';
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
/** Noise of neighbouring samples is alike for about so long: so far apart, two count as independent. */
const INDEPENDENT_SECONDS = 0.3;
/** Residual variance below which shapes are not told apart, square degrees: no trace is that exact. */
const LEAST_VARIANCE = 0.01;

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

/** The fits of one repetition, a shape at a time, and what its trace says for each shape. */
export interface ShapeFits {
  /** One for each of PROFILE_SHAPES, with the other movement in its best shape. */
  readonly bending: readonly Descent[];
  readonly lowering: readonly Descent[];
  readonly evidence: ShapeEvidence;
  readonly residualSdDeg: number;
}

/** Log likelihoods of the shapes, in the order of PROFILE_SHAPES; those of several repetitions are added. */
export interface ShapeEvidence {
  readonly bending: readonly number[];
  readonly lowering: readonly number[];
}

/** No repetition seen yet: all shapes alike. */
export const NO_EVIDENCE: ShapeEvidence = {
  bending: PROFILE_SHAPES.map(() => 0),
  lowering: PROFILE_SHAPES.map(() => 0),
};

/** What two sources say of the shapes together. */
export function addEvidence(a: ShapeEvidence, b: ShapeEvidence): ShapeEvidence {
  return {
    bending: a.bending.map((value, i) => value + (b.bending[i] ?? 0)),
    lowering: a.lowering.map((value, i) => value + (b.lowering[i] ?? 0)),
  };
}

/**
 * Fits plateau, bending, plateau, lowering, plateau by least squares, with free times and free levels, for each shape
 * of movement in PROFILE_SHAPES; plateaus may vanish, then a phase runs from turning point to turning point. Onset and
 * end are thus those of the whole movement, not crossings of a share of the range, and use all samples, so that noise
 * of a few degrees moves them little.
 *
 * Levenberg (1944), Marquardt (1963); the levels are linear and are solved for at each step (variable projection,
 * Golub and Pereyra 1973). Null with fewer than six points.
 */
export function fitPhases(problem: PhaseProblem): ShapeFits | null {
  const points = binned(problem.points);
  if (points.length < 6) return null;
  const task = { ...problem, points };
  const middle = descend(task, initial(task), ['cosine', 'cosine']);
  const firstLowering = PROFILE_SHAPES.map((shape) => descend(task, middle.parameters, ['cosine', shape]));
  const lowerShape = bestShape(firstLowering);
  const bending = PROFILE_SHAPES.map((shape) => descend(task, middle.parameters, [shape, lowerShape]));
  const bendShape = bestShape(bending);
  const lowering = PROFILE_SHAPES.map((shape) => descend(task, middle.parameters, [bendShape, shape]));
  const seconds = (points.at(-1)?.timeSeconds ?? 0) - (points[0]?.timeSeconds ?? 0);
  const independent = Math.min(points.length, seconds / INDEPENDENT_SECONDS);
  const best = Math.min(...lowering.map(({ evaluation }) => evaluation.sumOfSquares));
  const logLikelihood = ({ evaluation }: Descent): number =>
    (-independent / 2) * Math.log(evaluation.sumOfSquares + LEAST_VARIANCE * points.length);
  return {
    bending,
    lowering,
    evidence: { bending: bending.map(logLikelihood), lowering: lowering.map(logLikelihood) },
    residualSdDeg: Math.sqrt(best / points.length),
  };
}

/**
 * The phases of a repetition, its fits weighted by what all repetitions of the set say for each shape: one person moves
 * much alike from repetition to repetition, and one noisy trace tells shapes apart badly.
 */
export function settlePhases(fits: ShapeFits, evidence: ShapeEvidence): PhaseFit {
  const bend = weightedDescent(fits.bending, evidence.bending);
  const lower = weightedDescent(fits.lowering, evidence.lowering);
  // The two sets of fits may disagree by a hair on a top of no length.
  const top = (bend.topStart + lower.lowerStart) / 2;
  const overlap = bend.topStart > lower.lowerStart;
  return {
    bendingStartSeconds: bend.start,
    topStartSeconds: overlap ? top : bend.topStart,
    loweringStartSeconds: overlap ? top : lower.lowerStart,
    loweringEndSeconds: lower.lowerEnd,
    startDeg: bend.levels[0],
    topDeg: (bend.levels[1] + lower.levels[1]) / 2,
    endDeg: lower.levels[2],
    residualSdDeg: fits.residualSdDeg,
  };
}

function bestShape(fits: readonly Descent[]): ProfileShape {
  let best: ProfileShape = PROFILE_SHAPES[0];
  let least = Infinity;
  PROFILE_SHAPES.forEach((shape, i) => {
    const sum = fits[i]?.evaluation.sumOfSquares ?? Infinity;
    if (sum < least) [best, least] = [shape, sum];
  });
  return best;
}

function weightedDescent(
  fits: readonly Descent[],
  logLikelihoods: readonly number[],
): {
  start: number;
  topStart: number;
  lowerStart: number;
  lowerEnd: number;
  levels: [number, number, number];
} {
  const greatest = Math.max(...logLikelihoods);
  const weights = logLikelihoods.map((value) => Math.exp(value - greatest));
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = (pick: (fit: Descent) => number): number =>
    fits.reduce((sum, fit, i) => sum + (weights[i] ?? 0) * pick(fit), 0) / whole;
  const topStart = (p: Parameters): number => p.start + p.bending;
  return {
    start: mean(({ parameters: p }) => p.start),
    topStart: mean(({ parameters: p }) => topStart(p)),
    lowerStart: mean(({ parameters: p }) => topStart(p) + p.top),
    lowerEnd: mean(({ parameters: p }) => topStart(p) + p.top + p.lowering),
    levels: [
      mean(({ evaluation }) => evaluation.levels[0]),
      mean(({ evaluation }) => evaluation.levels[1]),
      mean(({ evaluation }) => evaluation.levels[2]),
    ],
  };
}

/** Parameters that a descent ended in, and how they fit. */
interface Descent {
  readonly parameters: Parameters;
  readonly evaluation: Evaluation;
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
  return profile('cosine', pastSeconds / Math.max(2 * SHORTEST_MOVEMENT_SECONDS, 2 * halfSeconds));
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
