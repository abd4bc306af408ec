import { SIDES, sideSign, type Body, type Side } from './body.ts';
import {
  add,
  combine,
  cross,
  distance,
  dot,
  fromFrame,
  mix,
  normalise,
  scale,
  subtract,
  toRadians,
  type Frame,
  type Vec3,
} from './vector.ts';

/** Joint angles of one arm in degrees. */
export interface ArmAngles {
  /** Upper arm against the trunk in the sagittal plane: 0 along the trunk, positive in front, negative behind. */
  readonly shoulderFlexionDeg: number;
  /** Upper arm away from the body's middle plane. */
  readonly shoulderAbductionDeg: number;
  /** Turn of the upper arm about its own length; positive brings the bent forearm in front of the belly. */
  readonly humeralRotationDeg: number;
  /** 0 straight, positive bent. */
  readonly elbowFlexionDeg: number;
  /** 0 neutral (thumb up at a right angle), positive supination, negative pronation. */
  readonly forearmRotationDeg: number;
}

/** Where the shoulder blade has taken the shoulder joint, against its usual place on the trunk; metres. */
export interface ShoulderShift {
  readonly forwardM: number;
  /** Along the trunk towards the head. */
  readonly upM: number;
}

export const UNMOVED_SHOULDER: ShoulderShift = { forwardM: 0, upM: 0 };

/** Everything that fixes where each joint of a body is. */
export interface Posture {
  readonly midHip: Vec3;
  /** Hip-to-shoulder line from the vertical, positive forward. */
  readonly trunkLeanDeg: number;
  readonly arms: Readonly<Record<Side, ArmAngles>>;
  /** Left out where the shoulder blades keep still. */
  readonly shoulderShiftM?: Readonly<Record<Side, ShoulderShift>>;
  readonly ankles: Readonly<Record<Side, Vec3>>;
  /** Toes down positive. */
  readonly footPitchDeg: Readonly<Record<Side, number>>;
  readonly headTurnDeg: number;
  /** Chin down positive, against the vertical (a person keeps the gaze level when the trunk leans). */
  readonly headNodDeg: number;
  /** -1 breathed out to 1 breathed in; widens the chest, moves no joint. */
  readonly breath: number;
}

type SidedJoint =
  | 'Shoulder'
  | 'Elbow'
  | 'Wrist'
  | 'Grip'
  | 'Index'
  | 'Pinky'
  | 'Thumb'
  | 'Hip'
  | 'Knee'
  | 'Ankle'
  | 'Heel'
  | 'Toe'
  | 'Eye'
  | 'Ear';
export type JointName = 'midShoulder' | 'midHip' | 'headCentre' | 'nose' | `${Side}${SidedJoint}`;

/** Joint centres in metres: x forward of the figure, y up from the floor, z to the figure's right. */
export type Joints = Readonly<Record<JointName, Vec3>>;

/** Placed frames of the rigid parts, for drawing. */
interface PartFrames {
  readonly trunk: Frame;
  readonly head: Frame;
  /** Origin at the shoulder, y from elbow to shoulder, x the way the forearm folds. */
  readonly upperArm: Readonly<Record<Side, Frame>>;
  /** Origin at the wrist, y from fingers to wrist, x the way the palm faces, z towards the thumb. */
  readonly hand: Readonly<Record<Side, Frame>>;
  /** Origin at the ankle, x towards the toes. */
  readonly foot: Readonly<Record<Side, Frame>>;
}

export interface Skeleton {
  readonly joints: Joints;
  readonly frames: PartFrames;
  readonly posture: Posture;
}

const RIGHT: Vec3 = [0, 0, 1];

/**
 * Joint centres and part frames of a body in a posture (forward kinematics; the knees by inverse kinematics).
 * @throws RangeError when an ankle is out of the leg's reach: a segment would have to stretch.
 */
export function buildSkeleton(body: Body, posture: Posture): Skeleton {
  const { lengths, statureM } = body;
  const lean = toRadians(posture.trunkLeanDeg);
  const up: Vec3 = [Math.sin(lean), Math.cos(lean), 0];
  const forward: Vec3 = [Math.cos(lean), -Math.sin(lean), 0];
  const trunk: Frame = { origin: posture.midHip, x: forward, y: up, z: RIGHT };
  const neckBase = add(posture.midHip, scale(up, lengths.trunk));
  const head = headFrame(body, trunk, neckBase, posture);
  const arms = bySide((side) => placeArm(body, posture, trunk, neckBase, side));
  const legs = bySide((side) => placeLeg(body, posture, side));
  const sided = (side: Side) => {
    const { shoulder, elbow, wrist, grip, hand } = arms[side];
    const { hip, knee, ankle, foot } = legs[side];
    return {
      shoulder,
      elbow,
      wrist,
      grip,
      // Knuckles of a closed fist, and the thumb's tip across it.
      index: fromFrame(hand, [-0.008 * statureM, -0.072 * statureM, 0.018 * statureM]),
      pinky: fromFrame(hand, [-0.008 * statureM, -0.066 * statureM, -0.018 * statureM]),
      thumb: fromFrame(hand, [0.018 * statureM, -0.058 * statureM, 0.02 * statureM]),
      hip,
      knee,
      ankle,
      heel: fromFrame(foot, [-0.28 * lengths.foot, -0.7 * lengths.ankleHeight, 0]),
      toe: fromFrame(foot, [0.62 * lengths.foot, -0.7 * lengths.ankleHeight, 0]),
      eye: fromFrame(head, [0.05 * statureM, 0.004 * statureM, sideSign(side) * 0.019 * statureM]),
      ear: fromFrame(head, [-0.004 * statureM, -0.006 * statureM, sideSign(side) * 0.044 * statureM]),
    };
  };
  const [l, r] = [sided('left'), sided('right')];
  const joints: Joints = {
    midShoulder: mix(l.shoulder, r.shoulder, 0.5),
    midHip: posture.midHip,
    headCentre: head.origin,
    nose: fromFrame(head, [0.066 * statureM, -0.014 * statureM, 0]),
    leftShoulder: l.shoulder,
    leftElbow: l.elbow,
    leftWrist: l.wrist,
    leftGrip: l.grip,
    leftIndex: l.index,
    leftPinky: l.pinky,
    leftThumb: l.thumb,
    leftHip: l.hip,
    leftKnee: l.knee,
    leftAnkle: l.ankle,
    leftHeel: l.heel,
    leftToe: l.toe,
    leftEye: l.eye,
    leftEar: l.ear,
    rightShoulder: r.shoulder,
    rightElbow: r.elbow,
    rightWrist: r.wrist,
    rightGrip: r.grip,
    rightIndex: r.index,
    rightPinky: r.pinky,
    rightThumb: r.thumb,
    rightHip: r.hip,
    rightKnee: r.knee,
    rightAnkle: r.ankle,
    rightHeel: r.heel,
    rightToe: r.toe,
    rightEye: r.eye,
    rightEar: r.ear,
  };
  const frames: PartFrames = {
    trunk,
    head,
    upperArm: bySide((side) => arms[side].upperArm),
    hand: bySide((side) => arms[side].hand),
    foot: bySide((side) => legs[side].foot),
  };
  return { joints, frames, posture };
}

export function bySide<T>(make: (side: Side) => T): Record<Side, T> {
  const [left, right] = SIDES.map(make);
  if (left === undefined || right === undefined) throw new Error('Both sides are needed.');
  return { left, right };
}

/** The neck takes up half of the trunk's lean, so that the gaze stays near the horizon. */
function headFrame(body: Body, trunk: Frame, neckBase: Vec3, posture: Posture): Frame {
  const neckUp = normalise(mix(trunk.y, [0, 1, 0], 0.35));
  const nod = toRadians(posture.headNodDeg);
  const turn = toRadians(posture.headTurnDeg);
  const y: Vec3 = [Math.sin(nod), Math.cos(nod), 0];
  const level: Vec3 = [Math.cos(nod), -Math.sin(nod), 0];
  const x = combine([Math.cos(turn), level], [Math.sin(turn), RIGHT]);
  const neckTop = add(neckBase, scale(neckUp, 0.049 * body.statureM));
  const origin = add(neckTop, combine([0.064 * body.statureM, y], [0.016 * body.statureM, level]));
  return { origin, x, y, z: cross(x, y) };
}

function placeArm(body: Body, posture: Posture, trunk: Frame, neckBase: Vec3, side: Side) {
  const { lengths } = body;
  const angles = posture.arms[side];
  const { forwardM, upM } = posture.shoulderShiftM?.[side] ?? UNMOVED_SHOULDER;
  const out = scale(trunk.z, sideSign(side));
  const usual = add(neckBase, scale(out, lengths.shoulderHalfWidth));
  const shoulder = combine([1, usual], [forwardM, trunk.x], [upM, trunk.y]);
  const flexion = toRadians(angles.shoulderFlexionDeg);
  const abduction = toRadians(angles.shoulderAbductionDeg);
  const inPlane = combine([-Math.cos(flexion), trunk.y], [Math.sin(flexion), trunk.x]);
  const along = combine([Math.cos(abduction), inPlane], [Math.sin(abduction), out]);
  // The way the forearm folds before the upper arm is turned: perpendicular to it, in the sagittal plane.
  const ahead = combine([Math.sin(flexion), trunk.y], [Math.cos(flexion), trunk.x]);
  const inward = normalise(combine([Math.sin(abduction), inPlane], [-Math.cos(abduction), out]));
  const rotation = toRadians(angles.humeralRotationDeg);
  const fold = combine([Math.cos(rotation), ahead], [Math.sin(rotation), inward]);
  const medial = combine([Math.cos(rotation), inward], [-Math.sin(rotation), ahead]);
  const bend = toRadians(angles.elbowFlexionDeg);
  const forearm = combine([Math.cos(bend), along], [Math.sin(bend), fold]);
  const folding = combine([-Math.sin(bend), along], [Math.cos(bend), fold]);
  const elbow = add(shoulder, scale(along, lengths.upperArm));
  const wrist = add(elbow, scale(forearm, lengths.forearm));
  const supination = toRadians(angles.forearmRotationDeg);
  const palm = combine([Math.cos(supination), medial], [Math.sin(supination), folding]);
  const thumb = combine([Math.cos(supination), folding], [-Math.sin(supination), medial]);
  const upperArm: Frame = {
    origin: shoulder,
    x: fold,
    y: scale(along, -1),
    z: cross(fold, scale(along, -1)),
  };
  const hand: Frame = { origin: wrist, x: palm, y: scale(forearm, -1), z: thumb };
  return { shoulder, elbow, wrist, grip: add(wrist, scale(forearm, lengths.grip)), upperArm, hand };
}

function placeLeg(body: Body, posture: Posture, side: Side) {
  const { thigh, shank, hipHalfWidth } = body.lengths;
  const hip = add(posture.midHip, [0, 0, sideSign(side) * hipHalfWidth]);
  const ankle = posture.ankles[side];
  const reach = distance(hip, ankle);
  if (reach > thigh + shank) {
    throw new RangeError(
      `The ${side} ankle is ${(reach - thigh - shank).toFixed(3)} m out of the leg's reach.`,
    );
  }
  const axis = normalise(subtract(ankle, hip));
  const along = (thigh ** 2 - shank ** 2 + reach ** 2) / (2 * reach);
  const aside = Math.sqrt(Math.max(0, thigh ** 2 - along ** 2));
  // The knee points forward and a little outward; with the leg along the floor it points up.
  const wanted: Vec3 = [1, 0.25, 0.06 * sideSign(side)];
  const ahead = normalise(subtract(wanted, scale(axis, dot(wanted, axis))));
  const knee = add(hip, combine([along, axis], [aside, ahead]));
  const pitch = toRadians(posture.footPitchDeg[side]);
  const x: Vec3 = [Math.cos(pitch), -Math.sin(pitch), 0];
  const foot: Frame = { origin: ankle, x, y: [Math.sin(pitch), Math.cos(pitch), 0], z: RIGHT };
  return { hip, knee, ankle, foot };
}
