import { clamp } from './statistics.ts';
import { solve } from './linear-system.ts';

/** How parameters fit: what is left of each observation, and the sum of its squares. */
export interface Evaluation {
  readonly residuals: Float64Array;
  readonly sumOfSquares: number;
}

/** What is fitted, and how. Lists have one entry for each parameter. */
export interface LeastSquaresProblem<E extends Evaluation> {
  readonly evaluate: (parameters: readonly number[]) => E;
  readonly start: readonly number[];
  /** Steps of the numeric derivative, in each parameter's own unit: small against what is fitted. */
  readonly derivativeSteps: readonly number[];
  /** Largest change of a parameter in one step; none when left out. */
  readonly largestStep?: number;
  /** Brings parameters back to where they may be; everywhere when left out. */
  readonly bounded?: (parameters: readonly number[]) => readonly number[];
  readonly rounds: number;
  /** Descending ends when a step lessens the sum of squares by less than this share. */
  readonly leastGain: number;
}

/** Parameters that a descent ended in, and how they fit. */
export interface Descent<E extends Evaluation> {
  readonly parameters: readonly number[];
  readonly evaluation: E;
}

/** The damping a descent begins with, how it changes with success and failure, and how often a round tries. */
const DAMPING = { first: 1e-2, least: 1e-6, easier: 1 / 4, harder: 8, attempts: 5 } as const;

/** Added to the normal matrix, so that a parameter without influence stays where it is. */
const RIDGE = 1e-6;

/**
 * Goes down from a start to a least sum of squares: Levenberg (1944), Marquardt (1963), with the damping in
 * proportion to each parameter's own curvature, and a numeric derivative.
 */
export function descend<E extends Evaluation>(problem: LeastSquaresProblem<E>): Descent<E> {
  const { evaluate, bounded, largestStep = Infinity } = problem;
  let parameters = problem.start;
  let evaluation = evaluate(parameters);
  let damping: number = DAMPING.first;
  for (let round = 0; round < problem.rounds; round++) {
    const columns = derivatives(problem, parameters, evaluation.residuals);
    let improved = false;
    for (let attempt = 0; attempt < DAMPING.attempts && !improved; attempt++) {
      const step = dampedStep(columns, evaluation.residuals, damping);
      const next = parameters.map((value, i) => value + clamp(step[i] ?? 0, -largestStep, largestStep));
      const trial = bounded ? bounded(next) : next;
      const tried = evaluate(trial);
      if (tried.sumOfSquares < evaluation.sumOfSquares) {
        const gain = 1 - tried.sumOfSquares / evaluation.sumOfSquares;
        parameters = trial;
        evaluation = tried;
        damping = Math.max(DAMPING.least, damping * DAMPING.easier);
        improved = true;
        if (gain < problem.leastGain) return { parameters, evaluation };
      } else damping *= DAMPING.harder;
    }
    if (!improved) break;
  }
  return { parameters, evaluation };
}

/**
 * Covariance of the parameters where a descent ended, for residuals of unit variance: the inverse of the normal
 * matrix. For residuals in another unit multiply by their variance.
 */
export function covarianceAt<E extends Evaluation>(
  problem: LeastSquaresProblem<E>,
  { parameters, evaluation }: Descent<E>,
): number[][] {
  const normal = normalMatrix(derivatives(problem, parameters, evaluation.residuals));
  return normal.map((_, i) =>
    solve(
      normal,
      normal.map((__, j) => (i === j ? 1 : 0)),
    ),
  );
}

/**
 * Weight of a residual in units of its standard deviation that keeps few far ones from ruling a fit: 1 up to the
 * limit, limit / |residual| beyond (Huber 1964).
 */
export function huberWeight(residual: number, limit: number): number {
  const size = Math.abs(residual);
  return size <= limit ? 1 : limit / size;
}

/** How the residuals change with each parameter. */
function derivatives<E extends Evaluation>(
  { evaluate, derivativeSteps }: LeastSquaresProblem<E>,
  parameters: readonly number[],
  residuals: Float64Array,
): Float64Array[] {
  return derivativeSteps.map((step, which) => {
    const moved = evaluate(parameters.map((value, i) => (i === which ? value + step : value)));
    return moved.residuals.map((r, i) => (r - (residuals[i] ?? 0)) / step);
  });
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += (a[k] ?? 0) * (b[k] ?? 0);
  return sum;
}

function normalMatrix(columns: readonly Float64Array[]): number[][] {
  return columns.map((u) => columns.map((v) => dot(u, v)));
}

function dampedStep(columns: readonly Float64Array[], residuals: Float64Array, damping: number): number[] {
  const matrix = normalMatrix(columns).map((row, i) =>
    row.map((value, j) => (i === j ? value * (1 + damping) + RIDGE : value)),
  );
  return solve(
    matrix,
    columns.map((column) => -dot(column, residuals)),
  );
}
