import { GATE_LIMITS } from './gate-limits.ts';
import type { Side } from './landmark.ts';
import type { SidedPoint, SidedPose } from './sided-pose.ts';

/** Below this a landmark is a guess of the network's and is not drawn at all. Our own choice, for the eye only. */
const LEAST_DRAWN_VISIBILITY = 0.2;

/** A joint as it is drawn on the picture: pixels of the upright picture, x to the right, y down. */
export interface DrawnJoint {
  readonly x: number;
  readonly y: number;
  /** Measured joints are drawn solid, uncertain ones hollow. One that is not measured is not drawn: null instead. */
  readonly certainty: 'measured' | 'uncertain';
}

/** The treated arm and the trunk, as measured in one picture. */
export interface FigureOverlay {
  readonly shoulder: DrawnJoint | null;
  readonly elbow: DrawnJoint | null;
  readonly wrist: DrawnJoint | null;
  readonly hip: DrawnJoint | null;
}

/** What of a pose is believed: everything, the trunk only, or nothing. */
export type Belief = 'all' | 'trunk-only' | 'nothing';

/** Nothing to draw. */
export const NO_OVERLAY: FigureOverlay = { shoulder: null, elbow: null, wrist: null, hip: null };

/** The treated arm and the trunk of a pose in pixels of the picture of the given width. */
export function figureOverlay(pose: SidedPose, side: Side, widthPx: number, belief: Belief): FigureOverlay {
  if (belief === 'nothing') return NO_OVERLAY;
  const drawn = (point: SidedPoint, isBelieved: boolean): DrawnJoint | null => {
    if (point.visibility < LEAST_DRAWN_VISIBILITY) return null;
    return {
      x: side === 'left' ? widthPx - point.forward : point.forward,
      y: -point.up,
      certainty: isBelieved && point.visibility >= GATE_LIMITS.seenVisibility ? 'measured' : 'uncertain',
    };
  };
  const { shoulder, elbow, wrist, hip } = pose.treated;
  const arm = belief === 'all';
  return {
    shoulder: drawn(shoulder, true),
    elbow: drawn(elbow, arm),
    wrist: drawn(wrist, arm),
    hip: drawn(hip, true),
  };
}
