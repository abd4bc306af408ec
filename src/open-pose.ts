import { EstimatorError, type EstimatorProblem } from './core/pose/estimator-problem.ts';
import type { EstimatorName, LoadProgress, PoseService } from './core/pose/pose-service.ts';

const spawnPoseWorker = (): Worker =>
  new Worker(new URL('./pose-worker.ts', import.meta.url), { type: 'module' });

/** Problems that no other runtime gets round. */
const UNAVOIDABLE: readonly EstimatorProblem[] = ['model-missing', 'model-damaged', 'no-simd'];

/** Landmarks by workers; by the library's own runtime on the page where no worker can be had. Comes with the first source. */
export async function openPose(
  modelBase: string,
  model: EstimatorName,
  onProgress: (progress: LoadProgress) => void,
): Promise<PoseService> {
  try {
    const { openPoseWorkerService, workersForClips } =
      await import('./adapters/pose-worker/pose-worker-service.ts');
    const workers = workersForClips();
    const parts = { spawn: spawnPoseWorker, modelBase, backend: 'any', workers } as const;
    return await openPoseWorkerService(parts, model, onProgress);
  } catch (error) {
    // What the library's runtime would lack as well is told; anything else may be the worker's own.
    if (!(error instanceof EstimatorError) || UNAVOIDABLE.includes(error.problem)) throw error;
    // eslint-disable-next-line no-console -- nobody else says why; people see that the library computes
    console.warn('Pictures are measured on the page, by the library:', error.message);
    const [{ createBlazePoseEstimator }, { pagePoseService }] = await Promise.all([
      import('./adapters/estimator/blaze-pose-estimator.ts'),
      import('./core/pose/page-pose-service.ts'),
    ]);
    const createEstimator = () => createBlazePoseEstimator({ modelBase });
    const nowMs = () => performance.now();
    return pagePoseService({ offered: ['full'], createEstimator, nowMs }, model, onProgress);
  }
}
