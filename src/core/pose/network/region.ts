import type { PicturePoint } from '../person-detector.ts';

/** A turned square of the picture that the landmark network looks at. */
export interface Region {
  readonly centreX: number;
  readonly centreY: number;
  /** Side of the square, pixels of the picture, above 0. */
  readonly sizePx: number;
  /** Clockwise turn on the screen (y down), radians, -pi to pi: 0 when the body stands upright. */
  readonly turnRad: number;
}

/** The square's side over the body circle's diameter. Source: BLAZEPOSE_DETECTOR_RECT_TRANSFORMATION_CONFIG, scale 1.25. */
const MARGIN = 1.25;

/**
 * The region of a body whose middle is between the hips and whose circle reaches `onCircle`, which lies over the head
 * when the body stands. Null when the two points are one: a body without size.
 * Source: pose-detection 2.1.3, dist/shared/calculators/{calculate_alignment_points_rects,transform_rect}.
 */
export function regionOfBody(midHip: PicturePoint, onCircle: PicturePoint): Region | null {
  const radius = Math.hypot(onCircle.x - midHip.x, onCircle.y - midHip.y);
  if (!(radius > 0)) return null;
  const turn = Math.PI / 2 - Math.atan2(midHip.y - onCircle.y, onCircle.x - midHip.x);
  return { centreX: midHip.x, centreY: midHip.y, sizePx: 2 * radius * MARGIN, turnRad: withinTurn(turn) };
}

/** The square that holds a whole picture in its middle. */
export function regionOfWhole({ widthPx, heightPx }: { widthPx: number; heightPx: number }): Region {
  return { centreX: widthPx / 2, centreY: heightPx / 2, sizePx: Math.max(widthPx, heightPx), turnRad: 0 };
}

/** The same angle between -pi and pi. */
function withinTurn(angle: number): number {
  return angle - 2 * Math.PI * Math.floor((angle + Math.PI) / (2 * Math.PI));
}
