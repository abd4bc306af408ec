import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import {
  decodeLandmarks,
  LANDMARK_INPUT_PX,
  OUTPUT_SIZES,
} from '../../core/pose/network/landmark-outputs.ts';
import { regionOfBody, type Region } from '../../core/pose/network/region.ts';
import { SteadyRegion } from '../../core/pose/network/steady-region.ts';
import { sampleRegion } from '../../core/pose/network/sample-region.ts';
import { competingPeople, followsNobody } from '../../core/pose/people.ts';
import type { DetectedPerson } from '../../core/pose/person-detector.ts';
import type { PixelPicture } from '../../core/pose/network/pixel-picture.ts';
import type { EstimatorIdentity, Sighting, TimedEstimator } from '../../core/pose/pose-estimator.ts';
import type { Pose } from '../../core/pose/pose-frame.ts';
import { findPeople } from './find-people.ts';
import { LookSchedule } from './look-schedule.ts';
import type { Network } from './network.ts';

/** Values that the landmark network was trained on. Source: pose-detection's BLAZEPOSE_LANDMARK_IMAGE_TO_TENSOR_CONFIG. */
const LANDMARK_RANGE = { low: 0, high: 1 };

/** The two networks of one estimator. */
export interface PoseNetworks {
  readonly detector: Network;
  readonly landmarks: Network;
}

/**
 * The published pose graph over pixels: somebody is searched when nobody is followed, then followed from picture to
 * picture by where the landmarks were. Twice a second the detector also looks who else is there, and whether the
 * tracker still follows somebody.
 */
export function litertPoseEstimator(
  identity: EstimatorIdentity,
  { detector, landmarks }: PoseNetworks,
): TimedEstimator {
  const looks = new LookSchedule();
  const steady = new SteadyRegion();
  let region: Region | null = null;
  let networkMs = 0;

  const detect = async (picture: PixelPicture): Promise<readonly DetectedPerson[]> => {
    const ran = await findPeople(detector, picture);
    networkMs += ran.networkMs;
    return ran.result;
  };

  const trackIn = async (picture: PixelPicture, timeSeconds: number, where: Region): Promise<Pose | null> => {
    const ran = await landmarks.run(
      (input) => sampleRegion(picture, where, LANDMARK_INPUT_PX, input, LANDMARK_RANGE, 'edge'),
      (output) =>
        decodeLandmarks(
          {
            points: output(OUTPUT_SIZES.points),
            presence: output(OUTPUT_SIZES.presence),
            heat: output(OUTPUT_SIZES.heat),
            world: output(OUTPUT_SIZES.world),
          },
          where,
        ),
    );
    networkMs += ran.networkMs;
    const found = ran.result;
    if (found === null) steady.forget();
    region = found === null ? null : steady.next(found.centre, found.onCircle, timeSeconds);
    return found?.pose ?? null;
  };

  const searchAndTrack = async (
    picture: PixelPicture,
    timeSeconds: number,
    found: readonly DetectedPerson[],
  ): Promise<Pose | null> => {
    steady.forget();
    const [strongest] = found;
    const where = strongest === undefined ? null : regionOfBody(strongest.midHip, strongest.onCircle);
    return where === null ? null : trackIn(picture, timeSeconds, where);
  };

  const estimate = async (picture: PixelPicture, timeSeconds: number): Promise<Sighting> => {
    networkMs = 0;
    const isDue = looks.isDue(timeSeconds);
    const found = isDue || region === null ? await detect(picture) : null;
    let pose =
      region === null
        ? await searchAndTrack(picture, timeSeconds, found ?? [])
        : await trackIn(picture, timeSeconds, region);
    if (found === null) return { pose, people: looks.people };
    const bodies = competingPeople(found);
    if (isDue && looks.isAstray(pose !== null && followsNobody(pose, bodies)))
      pose = await searchAndTrack(picture, timeSeconds, found);
    // Somebody whom the tracker follows is there, even where the detector misses them.
    looks.people = Math.max(bodies.length, pose === null ? 0 : 1);
    return { pose, people: looks.people };
  };

  return {
    identity,
    get networkMs() {
      return networkMs;
    },
    async estimate(picture, timeSeconds) {
      try {
        return await estimate(picture, timeSeconds);
      } catch (error) {
        throw new EstimatorError('failed', String(error), { cause: error });
      }
    },
    reset() {
      region = null;
      steady.forget();
      looks.startAfresh();
      return Promise.resolve();
    },
    dispose() {
      detector.dispose();
      landmarks.dispose();
    },
  };
}
