import type { PixelPicture } from '../../core/pose/network/pixel-picture.ts';
import { regionOfWhole } from '../../core/pose/network/region.ts';
import { sampleRegion } from '../../core/pose/network/sample-region.ts';
import {
  decodePeople,
  DETECTOR_INPUT_PX,
  DETECTOR_OUTPUT_SIZES,
  type DetectedPerson,
  letterbox,
} from '../../core/pose/person-detector.ts';
import { createNetwork, type Network, type NetworkRun } from './network.ts';

/** The detector's network: the one file in the package's packed assets. */
export const DETECTOR_FILE = 'pose_solution_packed_assets.data';

/** Values that it was trained on. Source: pose-detection's BLAZEPOSE_DETECTOR_IMAGE_TO_TENSOR_CONFIG. */
const RANGE = { low: -1, high: 1 };

/** Compiles the detector, always for the processor: graphics processors cannot run all of it, and it is small. */
export function createDetector(file: ArrayBuffer): Promise<Network> {
  return createNetwork(file, DETECTOR_INPUT_PX, Object.values(DETECTOR_OUTPUT_SIZES), 'wasm');
}

/** Everybody in a picture, strongest first, in its pixels. */
export function findPeople(
  detector: Network,
  picture: PixelPicture,
): Promise<NetworkRun<readonly DetectedPerson[]>> {
  const fitted = letterbox(picture.widthPx, picture.heightPx);
  return detector.run(
    (input) => sampleRegion(picture, regionOfWhole(picture), DETECTOR_INPUT_PX, input, RANGE, 'black'),
    (output) =>
      decodePeople(output(DETECTOR_OUTPUT_SIZES.boxes), output(DETECTOR_OUTPUT_SIZES.scores), fitted),
  );
}
