import { createDetector, SupportedModels } from '@tensorflow-models/pose-detection';
import type { PoseModel } from '../../core/pose/pose-service.ts';
import { poseTracker, type PoseTracker } from './blaze-pose-tracker.ts';
import { loadModelFiles } from './model-files.ts';
import { poseFiles, providePoseSolution } from './pose-solution.ts';

/**
 * The library's own runtime on the page: graphics through WebGL, or the processor. Rejects with an EstimatorError when
 * its files cannot be had, with another error when it does not start.
 */
export async function openLibraryTracker(
  modelBase: string,
  model: PoseModel,
  useCpuInference: boolean,
): Promise<PoseTracker> {
  const files = await loadModelFiles(modelBase, poseFiles(model));
  await providePoseSolution(files, useCpuInference);
  const detector = await createDetector(SupportedModels.BlazePose, {
    runtime: 'mediapipe',
    modelType: model,
    enableSmoothing: false,
    enableSegmentation: false,
  });
  return poseTracker(detector);
}
