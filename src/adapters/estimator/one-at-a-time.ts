import type { TimedEstimator } from '../../core/pose/pose-estimator.ts';

/**
 * The same estimator for several who ask, one call after another in the order in which they came: the networks have one
 * input. So a run may begin while the last picture of the one before is still computed.
 */
export function oneAtATime(estimator: TimedEstimator): TimedEstimator {
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = last.then(work, work);
    last = mine;
    return mine;
  };
  return {
    identity: estimator.identity,
    get networkMs() {
      return estimator.networkMs;
    },
    estimate: (picture, timeSeconds) => inTurn(() => estimator.estimate(picture, timeSeconds)),
    reset: () => inTurn(() => estimator.reset()),
    dispose: () => {
      void last.then(estimator.dispose, estimator.dispose);
    },
  };
}
