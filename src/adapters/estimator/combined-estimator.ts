import { combinePoses, type Look, LOOKS } from '../../core/pose/combine-poses.ts';
import { mirroredBack } from '../../core/pose/exchange-labels.ts';
import { inMirror, type PixelPicture } from '../../core/pose/network/pixel-picture.ts';
import type { EstimatorIdentity, Sighting, TimedEstimator } from '../../core/pose/pose-estimator.ts';
import type { Pose } from '../../core/pose/pose-frame.ts';
import { litertPoseEstimator } from './litert-pose-estimator.ts';
import type { Network } from './network.ts';

/** The networks of the looks; the detector serves all of them. */
export interface CombinedNetworks {
  readonly detector: Network;
  readonly full: Network;
  readonly heavy: Network;
}

/**
 * Looks at every picture with full, with full in a mirror and with heavy, each of which follows the person by itself, and
 * makes one pose of what they find. A look that followed something else searches afresh in the next picture.
 */
export function combinedEstimator(
  identity: EstimatorIdentity,
  { detector, full, heavy }: CombinedNetworks,
): TimedEstimator {
  const looks: Readonly<Record<Look, TimedEstimator>> = {
    full: litertPoseEstimator(identity, { detector, landmarks: full }),
    fullMirrored: litertPoseEstimator(identity, { detector, landmarks: full }),
    heavy: litertPoseEstimator(identity, { detector, landmarks: heavy }),
  };
  let networkMs = 0;

  const estimate = async (picture: PixelPicture, timeSeconds: number): Promise<Sighting> => {
    networkMs = 0;
    const found: Record<Look, Pose | null> = { full: null, fullMirrored: null, heavy: null };
    let people: number | null = null;
    for (const look of LOOKS) {
      const isMirrored = look === 'fullMirrored';
      const seen = await looks[look].estimate(isMirrored ? inMirror(picture) : picture, timeSeconds);
      networkMs += looks[look].networkMs;
      found[look] = isMirrored ? mirroredBack(seen.pose, picture.widthPx) : seen.pose;
      // All count with the same detector; who is seen in one look only is there all the same.
      if (seen.people !== null) people = Math.max(people ?? 0, seen.people);
    }
    const { pose, astray } = combinePoses(found);
    for (const look of astray) await looks[look].reset();
    return { pose, people };
  };

  return {
    identity,
    get networkMs() {
      return networkMs;
    },
    estimate,
    async reset() {
      for (const look of LOOKS) await looks[look].reset();
    },
    dispose() {
      for (const network of [detector, full, heavy]) network.dispose();
    },
  };
}
