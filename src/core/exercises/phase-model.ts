import { clamp } from '../math/statistics.ts';
import { solve } from './linear-system.ts';
import { profile, type ProfileShape } from './movement-profile.ts';

/** A flexion at its time. */
export interface FitPoint {
  readonly timeSeconds: number;
  readonly flexionDeg: number;
}

/** A movement that reaches into the window: when it is half way, and the level at its far end. */
export interface Neighbour {
  readonly midSeconds: number;
  readonly farDeg: number;
}

/** What is fitted: the trace from half way of the movement before to half way of the movement after. */
export interface PhaseWindow {
  readonly points: readonly FitPoint[];
  /** The lowering before and the bending after, null where the window has none. */
  readonly before: Neighbour | null;
  readonly after: Neighbour | null;
}

/** A movement of the elbow takes at least so long. */
const SHORTEST_MOVEMENT_SECONDS = 0.1;
const ROUNDS = 12;
/** Step of the numeric derivatives. */
const STEP_SECONDS = 0.01;

/** Shapes of bending, of lowering. */
export type Shapes = readonly [ProfileShape, ProfileShape];

/**
 * Durations in order: plateau before (from the end of the lowering before), bending, top, lowering, plateau after.
 * `start` is the onset of bending.
 */
export interface Parameters {
  readonly start: number;
  readonly restBefore: number;
  readonly bending: number;
  readonly top: number;
  readonly lowering: number;
  readonly restAfter: number;
}

/** How parameters fit the trace, and the levels that fit best with them: start, top, end. */
interface Evaluation {
  readonly residuals: Float64Array;
  readonly sumOfSquares: number;
  readonly levels: readonly [number, number, number];
}

/** Parameters that a descent ended in, and how they fit. */
export interface Descent {
  readonly parameters: Parameters;
  readonly evaluation: Evaluation;
}

/** Parameters with no movement shorter than it can be and no plateau shorter than none. */
export function bounded(p: Parameters): Parameters {
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

function freeNames({ before, after }: PhaseWindow): (typeof NAMES)[number][] {
  return NAMES.filter(
    (name) => (name !== 'restBefore' || before !== null) && (name !== 'restAfter' || after !== null),
  );
}

/** Goes down from a start to the least sum of squares with these shapes. */
export function descend(problem: PhaseWindow, from: Parameters, shapes: Shapes): Descent {
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
  { points, before, after }: PhaseWindow,
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
    const fromBefore =
      before && t < beforeEnd ? tailShare(lowerShape, beforeEnd - t, beforeEnd - before.midSeconds) : 0;
    const intoAfter =
      after && t > afterStart ? tailShare(bendShape, t - afterStart, after.midSeconds - afterStart) : 0;
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
function tailShare(shape: ProfileShape, pastSeconds: number, halfSeconds: number): number {
  return profile(shape, pastSeconds / Math.max(2 * SHORTEST_MOVEMENT_SECONDS, 2 * halfSeconds));
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
