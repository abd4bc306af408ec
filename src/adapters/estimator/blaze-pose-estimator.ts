import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import { competingPeople, followsNobody } from '../../core/pose/people.ts';
import type { DetectedPerson } from '../../core/pose/person-detector.ts';
import type { EstimatorIdentity, Picture, PoseEstimator, Sighting } from '../../core/pose/pose-estimator.ts';
import type { PoseTracker } from './blaze-pose-tracker.ts';
import { detectCapabilities } from './capabilities.ts';
import { openLibraryTracker } from './library-tracker.ts';
import { loadModelFiles } from './model-files.ts';
import { modelFile } from './model-manifest.ts';
import { LookSchedule } from './look-schedule.ts';
import { FINDER_FILES } from './finder-files.ts';
import { createPersonFinder, type PersonFinder } from './person-finder.ts';

/** How to make an estimator. */
export interface BlazePoseOptions {
  /** Where models/files is served, with a slash at the end. */
  readonly modelBase: string;
}

/**
 * BlazePose "full" through pose-detection's MediaPipe runtime, on the GPU where there is a real one, and a person finder
 * beside it. Rejects with an EstimatorError. Without the finder (it did not load) people is null and measuring goes on.
 */
export async function createBlazePoseEstimator({ modelBase }: BlazePoseOptions): Promise<PoseEstimator> {
  const { simd, webgl } = detectCapabilities();
  if (!simd) throw new EstimatorError('no-simd', 'WebAssembly SIMD is missing.');
  if (webgl === 'none') throw new EstimatorError('no-webgl', 'WebGL 2 is missing.');
  const onCpu = webgl === 'software';
  const tracker = await asEstimatorError(() => openLibraryTracker(modelBase, 'full', onCpu));
  return withPersonFinder(identityOf(onCpu), tracker, await finderOrNull(modelBase));
}

function identityOf(onCpu: boolean): EstimatorIdentity {
  const network = modelFile('pose_landmark_full.tflite');
  return {
    model: 'blazepose-full',
    runtime: `${network.package} ${network.version}, ${onCpu ? 'CPU' : 'GPU'}`,
    modelSha256s: [network.sha256],
  };
}

async function finderOrNull(modelBase: string): Promise<PersonFinder | null> {
  try {
    return await createPersonFinder(await loadModelFiles(modelBase, FINDER_FILES));
  } catch {
    return null;
  }
}

function withPersonFinder(
  identity: EstimatorIdentity,
  tracker: PoseTracker,
  finder: PersonFinder | null,
): PoseEstimator {
  const looks = new LookSchedule();

  const lookWhenDue = async (
    picture: Picture,
    timeSeconds: number,
  ): Promise<readonly DetectedPerson[] | null> => {
    if (finder === null || !looks.isDue(timeSeconds)) return null;
    return competingPeople(await finder.find(picture));
  };

  const estimate = async (picture: Picture, timeSeconds: number): Promise<Sighting> => {
    const found = await lookWhenDue(picture, timeSeconds);
    let pose = await tracker.track(picture, timeSeconds);
    if (found !== null) {
      if (looks.isAstray(pose !== null && followsNobody(pose, found))) {
        await tracker.forget();
        pose = await tracker.track(picture, timeSeconds);
      }
      // Somebody whom the tracker follows is there, even where the finder misses them.
      looks.people = Math.max(found.length, pose === null ? 0 : 1);
    }
    return { pose, people: looks.people };
  };

  return {
    identity,
    estimate: (picture, timeSeconds) => asEstimatorError(() => estimate(picture, timeSeconds)),
    reset: () =>
      asEstimatorError(async () => {
        looks.startAfresh();
        await tracker.forget();
      }),
    dispose: () => {
      tracker.dispose();
      finder?.dispose();
    },
  };
}

async function asEstimatorError<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof EstimatorError) throw error;
    throw new EstimatorError('failed', String(error), { cause: error });
  }
}
