import type { EstimatorIdentity } from '../pose/pose-estimator.ts';

/** What gave the landmarks: a network, or several looks at a picture combined. */
export type LandmarkSource = EstimatorIdentity['model'];

/** Where nothing else is known, the network that is usual. */
export const USUAL_LANDMARKS: LandmarkSource = 'blazepose-full';

/** How the landmarks of one source err, as far as the elbow's angle needs to know. */
export interface LandmarkErrors {
  /**
   * By so much, degrees, flexion looks larger because shoulder and wrist are put to the side to which the forearm folds.
   */
  readonly foldSideDeg: number;
  /** Scatter of a landmark within a set that stays after smoothing, upper-arm lengths, one standard deviation. */
  readonly pointSd: number;
  /**
   * What is left of the angle's error in a square view, degrees, one standard deviation: what is misplaced for a whole
   * set, and nothing in the picture tells. It grows with the misfit of the arm's lengths.
   */
  readonly leftOverDeg: number;
  /** It grows with this power of 1 / cos(yaw) too: the better the landmarks, the more of the error is the plane's. */
  readonly leftOverPower: number;
  /** Misfit of the arm's lengths, as in ArmPlaneFit, above which the angle is less sure in proportion to its root. */
  readonly usualMisfit: number;
  /**
   * Where the arm's lengths miss by more than this in the middle picture, in standard deviations of their noise, the
   * arm has not been followed and nothing is measured.
   */
  readonly mostMisfit: number;
}

/**
 * Measured on the 195 sets of the developing set of rendered people, to 45 deg of yaw; none has more than these six
 * constants. foldSideDeg: the mean of the sets' biases without it. pointSd, leftOverDeg and leftOverPower: so that 92 to 98 % of pictures
 * lie inside the interval. mostMisfit: what lies above is off by 6 to 27 deg, an arm behind a post or behind the other arm.
 * Nothing was measured with lite, whose landmarks are poorer: it is given the bias of full and twice its doubt.
 */
export const LANDMARK_ERRORS: Readonly<Record<LandmarkSource, LandmarkErrors>> = {
  'blazepose-lite': {
    foldSideDeg: 1.8,
    pointSd: 0.028,
    leftOverDeg: 6.2,
    leftOverPower: 2,
    usualMisfit: 0.35,
    mostMisfit: 0.8,
  },
  'blazepose-full': {
    foldSideDeg: 1.8,
    pointSd: 0.014,
    leftOverDeg: 3.1,
    leftOverPower: 2,
    usualMisfit: 0.35,
    mostMisfit: 0.8,
  },
  'blazepose-heavy': {
    foldSideDeg: 2.6,
    pointSd: 0.012,
    leftOverDeg: 2.7,
    leftOverPower: 2,
    usualMisfit: 0.35,
    mostMisfit: 0.8,
  },
  'blazepose-combined': {
    foldSideDeg: 2.6,
    pointSd: 0.01,
    leftOverDeg: 2.2,
    leftOverPower: 3,
    usualMisfit: 0.35,
    mostMisfit: 0.7,
  },
};
