/** A landmark in the picture. x grows to the right, y downwards, both in pixels of the upright picture. */
export interface ImageLandmark {
  readonly x: number;
  readonly y: number;
  /** The network's own score that the point is in the picture and not hidden, 0 to 1. High does not mean right. */
  readonly visibility: number;
}

/**
 * The network's metric guess of a landmark: metres, origin between the hips, x to the picture's right, y down,
 * z away from the camera. Compressed in depth: good for which way the body is turned, not for angles.
 */
export interface WorldLandmark {
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** One person as the network sees them: 33 landmarks in the order of LANDMARK_NAMES, twice. */
export interface Pose {
  readonly image: readonly ImageLandmark[];
  readonly world: readonly WorldLandmark[];
}

/** What the estimator says of one picture. The only input of everything that measures. */
export interface PoseFrame {
  /** Capture or media time of the picture in its source's own clock, seconds, strictly rising within a set. */
  readonly timeSeconds: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Null when nobody was found. */
  readonly pose: Pose | null;
  /**
   * How many people the person finder saw in or shortly before this picture; null when it has not looked.
   * The tracker itself follows one person only and would not say.
   */
  readonly people: number | null;
  /** Mean brightness of the picture, 0 black to 255 white; null when not looked at. */
  readonly brightness: number | null;
}
