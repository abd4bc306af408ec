import { describe, expect, it } from 'vitest';
import {
  covarianceAt,
  descend,
  huberWeight,
  type Evaluation,
  type LeastSquaresProblem,
} from '../../../src/core/math/levenberg-marquardt.ts';

function evaluationOf(residuals: readonly number[]): Evaluation {
  return {
    residuals: Float64Array.from(residuals),
    sumOfSquares: residuals.reduce((sum, r) => sum + r * r, 0),
  };
}

/** NIST Statistical Reference Datasets, nonlinear regression, Misra1a: y = b1 (1 - exp(-b2 x)), pairs of y and x. */
const MISRA1A = [
  [10.07, 77.6],
  [14.73, 114.9],
  [17.94, 141.1],
  [23.93, 190.8],
  [29.61, 239.9],
  [35.18, 289],
  [40.02, 332.8],
  [44.82, 378.4],
  [50.76, 434.8],
  [55.05, 477.3],
  [61.01, 536.8],
  [66.4, 593.1],
  [75.47, 689.1],
  [81.78, 760],
] as const;
const CERTIFIED = {
  b1: { value: 238.94212918, sd: 2.7070075241 },
  b2: { value: 5.5015643181e-4, sd: 7.2668688436e-6 },
  sumOfSquares: 0.12455138894,
};

function misra1a(start: readonly [number, number]): LeastSquaresProblem<Evaluation> {
  return {
    evaluate: ([b1 = 0, b2 = 0]) => evaluationOf(MISRA1A.map(([y, x]) => y - b1 * (1 - Math.exp(-b2 * x)))),
    start,
    derivativeSteps: [1e-3, 1e-9],
    rounds: 200,
    leastGain: 1e-14,
  };
}

describe('descend', () => {
  it.each([
    [500, 0.0001],
    [250, 0.0005],
  ] as const)('reaches the certified values from the published start %d, %d', (b1, b2) => {
    const problem = misra1a([b1, b2]);
    const descent = descend(problem);
    const [first = NaN, second = NaN] = descent.parameters;
    expect(first / CERTIFIED.b1.value).toBeCloseTo(1, 6);
    expect(second / CERTIFIED.b2.value).toBeCloseTo(1, 6);
    expect(descent.evaluation.sumOfSquares).toBeCloseTo(CERTIFIED.sumOfSquares, 8);
    const variance = descent.evaluation.sumOfSquares / (MISRA1A.length - 2);
    const covariance = covarianceAt(problem, descent);
    const sdOf = (i: number): number => Math.sqrt(variance * (covariance[i]?.[i] ?? NaN));
    expect(sdOf(0) / CERTIFIED.b1.sd).toBeCloseTo(1, 4);
    expect(sdOf(1) / CERTIFIED.b2.sd).toBeCloseTo(1, 4);
  });

  it('keeps parameters where they may be', () => {
    const { parameters } = descend({
      evaluate: ([x = 0]) => evaluationOf([x - 5]),
      start: [0],
      derivativeSteps: [1e-6],
      bounded: ([x = 0]) => [Math.min(2, x)],
      rounds: 20,
      leastGain: 1e-12,
    });
    expect(parameters[0]).toBe(2);
  });

  it('leaves a parameter without influence where it was', () => {
    const { parameters } = descend({
      evaluate: ([x = 0]) => evaluationOf([x - 5, 2 * x - 10]),
      start: [0, 3],
      derivativeSteps: [1e-6, 1e-6],
      rounds: 20,
      leastGain: 1e-12,
    });
    expect(parameters[0]).toBeCloseTo(5, 6);
    expect(parameters[1]).toBe(3);
  });
});

describe('huberWeight', () => {
  it('is 1 up to the limit and falls with the distance beyond', () => {
    expect([-2, 0, 2].map((r) => huberWeight(r, 2))).toEqual([1, 1, 1]);
    expect([-4, 4, 20].map((r) => huberWeight(r, 2))).toEqual([0.5, 0.5, 0.1]);
  });
});
