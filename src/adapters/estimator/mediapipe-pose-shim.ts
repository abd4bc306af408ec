import type { PoseConfig } from '@mediapipe/pose';
import type { PoseSolution } from './pose-solution.ts';

/**
 * Stands in for the import of '@mediapipe/pose' (alias in vite.config.ts): that package is a classic script that hangs
 * its class on window. Looked up at the call, because the script is loaded, hash checked, only when an estimator is
 * made.
 */
export function Pose(config: PoseConfig): PoseSolution {
  if (window.Pose === undefined) throw new Error('Pose: pose.js has not been loaded.');
  return new window.Pose(config);
}
