import type { Measured, NotMeasuredReason } from './measured.ts';

/**
 * A point of the body in the plane in which the arm moves, after the camera's turn has been taken out: forward grows
 * towards the person's front as they would stand upright at that spot (horizontal), up grows against gravity (the
 * picture's vertical). Unit: the person's own upper-arm length. The origin is the picture's and stays put within a set.
 */
export interface PlanePoint {
  readonly forward: number;
  readonly up: number;
}

/** The treated side's points; null where not seen well enough. hand is the middle of the knuckles. */
export interface PlaneBody {
  readonly shoulder: PlanePoint | null;
  readonly elbow: PlanePoint | null;
  readonly wrist: PlanePoint | null;
  readonly hand: PlanePoint | null;
  readonly hip: PlanePoint | null;
  readonly knee: PlanePoint | null;
  readonly ankle: PlanePoint | null;
  readonly midShoulder: PlanePoint | null;
  readonly midHip: PlanePoint | null;
}

/**
 * How the picture's foreshortening was treated for the elbow of the treated arm: not at all, by the body's turn, or by
 * the plane in which the arm was seen to bend through the set. The other angles go by the body's turn.
 */
export type AngleMethod = 'image-plane' | 'turned-image-plane' | 'set-plane';

/** Everything measured in one picture, of the treated side. Angles in degrees by the definitions in docs/measuring.md. */
export interface KinematicFrame {
  readonly timeSeconds: number;
  /** Why the whole frame counts as not measured, or null when the treated elbow was measured. */
  readonly reason: NotMeasuredReason | null;
  /** 0 straight, growing as the elbow bends. */
  readonly elbowFlexionDeg: Measured;
  readonly otherElbowFlexionDeg: Measured;
  /** Upper arm against trunk: 0 along the trunk, positive in front of it, negative behind it. */
  readonly shoulderFlexionDeg: Measured;
  /** Hip-to-shoulder line from the vertical, 0 to 180, unsigned. */
  readonly trunkInclinationDeg: Measured;
  /** Forearm (elbow to wrist) from the horizontal: 0 level, positive with the hand above the elbow. */
  readonly forearmFromHorizontalDeg: Measured;
  /** 0 thumb up with the elbow at 90, positive supination, negative pronation. */
  readonly forearmRotationDeg: Measured;
  /** Trunk against thigh: 180 in line, smaller when the hip bends. */
  readonly hipAngleDeg: Measured;
  /** Mid-shoulder's straight distance from its first measured place in the set. */
  readonly torsoTravelCm: Measured;
  /** The same in upper-arm lengths, had without the stature. */
  readonly torsoTravelUpperArms: Measured;
  /** Signed distance of the elbow from the shoulder-hip line, positive behind the trunk, in upper-arm lengths. */
  readonly elbowBehindTrunkUpperArms: Measured;
  /** One standard deviation of a point's place in upper-arm lengths, for carrying scatter on; null when unknown. */
  readonly pointSdUpperArms: number | null;
  readonly body: PlaneBody;
}

/** What the view of a whole set was, and how lengths were had. */
export interface ViewOfSet {
  /** Angle between the camera's line and the normal of the arm's plane, 0 square on; null when it could not be had. */
  readonly cameraYawDeg: number | null;
  readonly method: AngleMethod;
  /** Centimetres of one upper-arm length, or null without stature. */
  readonly upperArmCm: number | null;
  /** From which segments the scale came, for example "trunk, thigh, shank"; null without stature. */
  readonly scaleSource: string | null;
  /** Cut-off of the zero-lag low-pass in hertz, and the uniform rate it ran at; null for a live series. */
  readonly lowPassHz: number | null;
  readonly rateHz: number | null;
}

/** The measured series of one set. */
export interface KinematicSeries {
  readonly frames: readonly KinematicFrame[];
  readonly view: ViewOfSet;
}
