import { GATE_LIMITS } from './gate-limits.ts';
import type { GatedPose } from './gate.ts';
import type { Side } from './landmark.ts';
import type { SidedPoint } from './sided-pose.ts';

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

/** Nothing to draw. */
const NO_OVERLAY: FigureOverlay = { shoulder: null, elbow: null, wrist: null, hip: null };

/** The treated arm and the trunk of a gated pose in pixels of the picture of the given width. */
export function measuredOverlay(gated: GatedPose, side: Side, widthPx: number): FigureOverlay {
  if (gated.pose === null || (gated.reason !== null && !gated.armOnly)) return NO_OVERLAY;
  const isArmBelieved = !gated.armOnly;
  const drawn = (point: SidedPoint, isBelieved: boolean): DrawnJoint | null => {
    if (point.visibility < LEAST_DRAWN_VISIBILITY) return null;
    return {
      x: side === 'left' ? widthPx - point.forward : point.forward,
      y: -point.up,
      certainty: isBelieved && point.visibility >= GATE_LIMITS.seenVisibility ? 'measured' : 'uncertain',
    };
  };
  const { shoulder, elbow, wrist, hip } = gated.pose.treated;
  return {
    shoulder: drawn(shoulder, true),
    elbow: drawn(elbow, isArmBelieved),
    wrist: drawn(wrist, isArmBelieved),
    hip: drawn(hip, true),
  };
}
