import { isInside, isSeen } from './body-checks.ts';
import { GATE_LIMITS } from './gate-limits.ts';
import type { Side } from './landmark.ts';
import type { PoseFrame } from './pose-frame.ts';
import { distance, sidedPose, SIDED_LANDMARKS, trunkOf, type SidedPose } from './sided-pose.ts';
import { bodyYawDeg, nearSideEvidence } from './viewpoint.ts';

/** Plain facts of one picture about how the camera stands, for advice before a set. */
export interface SetupFacts {
  readonly personFound: boolean;
  /** Shoulder, elbow, wrist and knuckles of the treated side lie in the picture. */
  readonly wholeArmInPicture: boolean;
  /** Shoulder, elbow and wrist of the treated side are seen, not hidden. */
  readonly armSeen: boolean;
  /** Both shoulders and hips lie in the picture and those of the treated side are seen. */
  readonly trunkInPicture: boolean;
  /** Knee and foot of the treated side lie in the picture. */
  readonly legsInPicture: boolean;
  /** Height of the landmarks' outline over the picture's height, 0 to about 1; null without a person. */
  readonly heightShare: number | null;
  /** The treated upper arm's length in the picture, pixels; null without a person. */
  readonly upperArmPx: number | null;
  /** True when the person is too far away for angles. */
  readonly tooSmall: boolean;
  /** Turn of the body from a square side view, degrees, positive when the front shows; null when unknown. */
  readonly yawDeg: number | null;
  /** Which side is near the camera; 'unclear' in a view from the front or back; null without a person. */
  readonly nearSide: 'treated' | 'other' | 'unclear' | null;
  readonly people: number | null;
  /** Mean brightness, 0 to 255; null when not looked at. */
  readonly brightness: number | null;
}

function heightShare(pose: SidedPose, heightPx: number): number {
  const ups = [pose.nose, ...SIDED_LANDMARKS.flatMap((name) => [pose.treated[name], pose.other[name]])]
    .filter(isSeen)
    .map((point) => point.up);
  return ups.length > 0 ? (Math.max(...ups) - Math.min(...ups)) / heightPx : 0;
}

function nearSide(pose: SidedPose): 'treated' | 'other' | 'unclear' {
  const { score } = nearSideEvidence(pose);
  if (score <= -GATE_LIMITS.farOn) return 'other';
  return score >= GATE_LIMITS.farOn ? 'treated' : 'unclear';
}

/** The facts of one picture, for the person's own treated side. */
export function setupFacts(frame: PoseFrame, side: Side): SetupFacts {
  const { people, brightness } = frame;
  if (frame.pose === null) {
    return {
      personFound: false,
      wholeArmInPicture: false,
      armSeen: false,
      trunkInPicture: false,
      legsInPicture: false,
      heightShare: null,
      upperArmPx: null,
      tooSmall: false,
      yawDeg: null,
      nearSide: null,
      people,
      brightness,
    };
  }
  const pose = sidedPose(frame.pose, side, frame.widthPx);
  const { treated, other } = pose;
  const arm = [treated.shoulder, treated.elbow, treated.wrist];
  const upperArmPx = distance(treated.shoulder, treated.elbow);
  const sizePx = Math.max(upperArmPx, GATE_LIMITS.upperArmOverTrunk * trunkOf(pose).length);
  return {
    personFound: true,
    wholeArmInPicture: [...arm, treated.index, treated.pinky].every((point) => isInside(point, frame)),
    armSeen: arm.every(isSeen),
    trunkInPicture:
      [treated.shoulder, treated.hip, other.shoulder, other.hip].every((point) => isInside(point, frame)) &&
      isSeen(treated.shoulder) &&
      isSeen(treated.hip),
    legsInPicture: [treated.knee, treated.ankle, treated.foot_index].every((point) => isInside(point, frame)),
    heightShare: heightShare(pose, frame.heightPx),
    upperArmPx,
    tooSmall: sizePx < GATE_LIMITS.leastUpperArmPx,
    yawDeg: bodyYawDeg(pose),
    nearSide: nearSide(pose),
    people,
    brightness,
  };
}
