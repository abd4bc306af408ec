/** Everything that can go wrong with an estimator; the sentence for each stands in feedback/source-problems.ts. */
export type EstimatorProblem = 'model-missing' | 'model-damaged' | 'no-simd' | 'no-webgl' | 'failed';

/** An estimator that cannot start or go on. The message is for developers; people read the problem's sentence. */
export class EstimatorError extends Error {
  override readonly name = 'EstimatorError';
  readonly problem: EstimatorProblem;

  constructor(problem: EstimatorProblem, detail: string, options?: ErrorOptions) {
    super(`${problem}: ${detail}`, options);
    this.problem = problem;
  }
}
