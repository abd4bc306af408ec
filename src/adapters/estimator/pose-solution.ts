import type { Options, Pose, PoseConfig } from '@mediapipe/pose';
import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import type { PoseModel } from '../../core/pose/pose-service.ts';
import type { ModelFiles } from './model-files.ts';
import { modelIntegrity } from './model-manifest.ts';

/** The package's class; its option useCpuInference is missing from its own types. */
export interface PoseSolution extends Pose {
  setOptions(options: Options & { readonly useCpuInference?: boolean }): void;
}

type PoseClass = new (config?: PoseConfig) => PoseSolution;

declare global {
  interface Window {
    /** Set by pose.js, a classic script. */
    Pose?: PoseClass;
  }
}

/** Files of models/manifest.json that the package's runtime needs for a network. */
export function poseFiles(model: PoseModel): readonly string[] {
  return [
    'pose.js',
    'pose_solution_packed_assets_loader.js',
    'pose_solution_packed_assets.data',
    'pose_solution_simd_wasm_bin.js',
    'pose_solution_simd_wasm_bin.wasm',
    'pose_web.binarypb',
    `pose_landmark_${model}.tflite`,
  ];
}

let original: PoseClass | null = null;

/**
 * Loads pose.js and makes the class that pose-detection will construct take every file from the checked ones, and
 * compute on the CPU where told. Rejects with an EstimatorError.
 */
export async function providePoseSolution(files: ModelFiles, useCpuInference: boolean): Promise<void> {
  if (original === null) {
    await runClassicScript(files.url('pose.js'), modelIntegrity('pose.js'));
    original = window.Pose ?? null;
  }
  const Original = original;
  if (Original === null) throw new EstimatorError('failed', 'pose.js did not define Pose.');
  window.Pose = class extends Original {
    constructor() {
      super({ locateFile: (name) => files.url(name) });
      this.setOptions({ useCpuInference });
    }
  };
}

function runClassicScript(url: string, integrity: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const script = document.createElement('script');
    script.integrity = integrity;
    script.src = url;
    script.addEventListener('load', () => resolve());
    script.addEventListener('error', () => reject(new EstimatorError('failed', `${url} did not run.`)));
    document.head.append(script);
  });
}
