import { getWebGpuDevice } from '@litertjs/core';
import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import { LANDMARK_INPUT_PX, OUTPUT_SIZES } from '../../core/pose/network/landmark-outputs.ts';
import type { EstimatorIdentity, TimedEstimator } from '../../core/pose/pose-estimator.ts';
import type { EstimatorName, LoadProgress, PoseModel } from '../../core/pose/pose-service.ts';
import { hasSimd } from './capabilities.ts';
import { combinedEstimator } from './combined-estimator.ts';
import { createDetector, DETECTOR_FILE } from './find-people.ts';
import { litertPoseEstimator } from './litert-pose-estimator.ts';
import { loadRuntimeInWorker, runtimeFiles } from './litert-runtime.ts';
import { loadModelFiles, type ModelFiles } from './model-files.ts';
import { modelFile } from './model-manifest.ts';
import { type Accelerator, createNetwork, type Network } from './network.ts';

/** 'any': the graphics processor where there is a real one. 'gpu-even-software' is for checks of correctness only. */
export type BackendWish = 'any' | 'cpu' | 'gpu-even-software';

/** An estimator and where it computes. */
export interface OpenedEstimator {
  readonly estimator: TimedEstimator;
  readonly backend: 'gpu' | 'cpu';
  /** Settles when the graphics processor is lost; never without one. */
  readonly lost: Promise<unknown>;
}

/**
 * Loads runtime and networks into this worker. A second call loads other networks and keeps the runtime.
 * Rejects with an EstimatorError.
 */
export async function openPoseEstimator(
  modelBase: string,
  name: EstimatorName,
  wish: BackendWish,
  onProgress: (progress: LoadProgress) => void,
): Promise<OpenedEstimator> {
  if (!hasSimd()) throw new EstimatorError('no-simd', 'WebAssembly SIMD is missing.');
  const runtime = await runtimeFiles();
  const names = [runtime.loader, runtime.wasm, DETECTOR_FILE, ...networksOf(name).map(landmarkFile)];
  const files = await loadModelFiles(modelBase, names, onProgress);
  try {
    await loadRuntimeInWorker(modelBase, runtime);
    return await onBestBackend(files, name, wish);
  } catch (error) {
    if (error instanceof EstimatorError) throw error;
    throw new EstimatorError('failed', String(error), { cause: error });
  } finally {
    files.release();
  }
}

async function onBestBackend(
  files: ModelFiles,
  name: EstimatorName,
  wish: BackendWish,
): Promise<OpenedEstimator> {
  const device = await usableDevice(wish);
  if (device !== null)
    try {
      const estimator = await create(files, name, 'webgpu');
      return { estimator, backend: 'gpu', lost: device.lost };
    } catch {
      // Not every graphics processor runs every network; the processor runs them all.
    }
  const never = new Promise<never>(() => undefined);
  return { estimator: await create(files, name, 'wasm'), backend: 'cpu', lost: never };
}

/** The graphics device that the runtime opened, unless it is a processor that only imitates one. */
async function usableDevice(wish: BackendWish): Promise<GPUDevice | null> {
  if (wish === 'cpu' || !('gpu' in navigator)) return null;
  const device = getWebGpuDevice();
  if (device === null || wish === 'gpu-even-software') return device;
  const isSoftware = device.adapterInfo.isFallbackAdapter;
  return isSoftware ? null : device;
}

async function create(
  files: ModelFiles,
  name: EstimatorName,
  accelerator: Accelerator,
): Promise<TimedEstimator> {
  const detector = await createDetector(await files.bytes(DETECTOR_FILE));
  const landmarks = async (model: PoseModel): Promise<Network> =>
    createNetwork(
      await files.bytes(landmarkFile(model)),
      LANDMARK_INPUT_PX,
      Object.values(OUTPUT_SIZES),
      accelerator,
    );
  const identity = identityOf(name, accelerator);
  if (name !== 'combined')
    return litertPoseEstimator(identity, { detector, landmarks: await landmarks(name) });
  return combinedEstimator(identity, {
    detector,
    full: await landmarks('full'),
    heavy: await landmarks('heavy'),
  });
}

function networksOf(name: EstimatorName): readonly PoseModel[] {
  return name === 'combined' ? ['full', 'heavy'] : [name];
}

function landmarkFile(model: PoseModel): string {
  return `pose_landmark_${model}.tflite`;
}

function identityOf(name: EstimatorName, accelerator: Accelerator): EstimatorIdentity {
  const { package: runtime, version } = modelFile('litert_wasm_internal.js');
  return {
    model: `blazepose-${name}`,
    runtime: `${runtime} ${version}, ${accelerator === 'webgpu' ? 'GPU' : 'CPU'}`,
    modelSha256s: networksOf(name).map((model) => modelFile(landmarkFile(model)).sha256),
  };
}
