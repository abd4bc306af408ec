import type { Body } from '../body.ts';
import { buildSkeleton, type Joints, type Posture } from '../skeleton.ts';
import { mix, toRadians } from '../vector.ts';

/**
 * A repetition counts as shoulder-dominant when the shoulder extensors do more than this share of the work that they
 * and the elbow flexors do while lifting: more than half. What the word means, so no source.
 */
export const DOMINANT_WORK_SHARE = 0.5;

const GRAVITY_M_PER_S2 = 9.81;
/** Moments of the integral over a lift; twice as many change the share by less than 0.001. */
const LIFT_STEPS = 40;

type Limb = 'upperArm' | 'forearm' | 'hand' | 'thigh' | 'shank';
type LimbJoint = 'Shoulder' | 'Elbow' | 'Wrist' | 'Grip' | 'Hip' | 'Knee' | 'Ankle';

/**
 * Mass of a segment as a fraction of the body's and where its centre is from the upper joint to the lower one. D. A.
 * Winter, Biomechanics and Motor Control of Human Movement (2009), table 4.1, after Dempster; from memory. The hand's
 * mass is taken at the grip. The feet stand on the floor and load nothing.
 */
const LIMBS: Readonly<Record<Limb, { mass: number; centre: number; from: LimbJoint; to: LimbJoint }>> = {
  upperArm: { mass: 0.028, centre: 0.436, from: 'Shoulder', to: 'Elbow' },
  forearm: { mass: 0.016, centre: 0.43, from: 'Elbow', to: 'Wrist' },
  hand: { mass: 0.006, centre: 1, from: 'Wrist', to: 'Grip' },
  thigh: { mass: 0.1, centre: 0.433, from: 'Hip', to: 'Knee' },
  shank: { mass: 0.0465, centre: 0.433, from: 'Knee', to: 'Ankle' },
};
/** Trunk, head and neck, from hip to shoulder; same table. */
const TRUNK = { mass: 0.578, centre: 0.66 } as const;

/** Forward and up in the sagittal plane, metres or newtons. */
interface Sagittal {
  readonly x: number;
  readonly y: number;
}

interface Weight extends Sagittal {
  readonly massKg: number;
}

/** Moments of both arms' muscles together in newton metres; negative where the antagonists hold the joint. */
interface PullMoments {
  readonly elbowFlexorsNm: number;
  readonly shoulderExtensorsNm: number;
}

/**
 * Moments at elbow and shoulder of a body that leans back and hangs by both hands from a bar, at rest (statics). The
 * floor's reaction passes through the ankles. Where the hands' force points cannot be known from the posture; it is
 * taken as the smallest that keeps the body from falling, at a right angle to the line from ankle to grip. A vertical
 * one would have to be greater than the body's weight, and the floor would have to pull the feet down. The most upright
 * one that feet with a friction of 0.6 allow changed the shares of a trial body but not which of them were over a half.
 */
export function pullMoments(body: Body, joints: Joints): PullMoments {
  const middle = (joint: LimbJoint): Sagittal => middleOf(joints, joint);
  const weightOf = (limb: Limb): Weight => {
    const { mass, centre, from, to } = LIMBS[limb];
    const [x, y] = mix(asPoint(middle(from)), asPoint(middle(to)), centre);
    // Both sides together.
    return { x, y, massKg: 2 * mass * body.massKg };
  };
  const [trunkX, trunkY] = mix(joints.midHip, joints.midShoulder, TRUNK.centre);
  const trunk: Weight = { x: trunkX, y: trunkY, massKg: TRUNK.mass * body.massKg };
  const [upperArm, forearm, hand] = [weightOf('upperArm'), weightOf('forearm'), weightOf('hand')];
  const [ankle, grip] = [middle('Ankle'), middle('Grip')];
  const fallNm = weightTurn([trunk, upperArm, forearm, hand, weightOf('thigh'), weightOf('shank')], ankle);
  const lever: Sagittal = { x: grip.x - ankle.x, y: grip.y - ankle.y };
  const perLever = -fallNm / (lever.x ** 2 + lever.y ** 2);
  const force: Sagittal = { x: -lever.y * perLever, y: lever.x * perLever };
  // Turns count from forward to up, the way both joints flex; the muscles make the opposite of what loads them.
  const elbow = -(forceTurn(force, grip, middle('Elbow')) + weightTurn([forearm, hand], middle('Elbow')));
  const shoulder =
    forceTurn(force, grip, middle('Shoulder')) + weightTurn([upperArm, forearm, hand], middle('Shoulder'));
  return { elbowFlexorsNm: elbow, shoulderExtensorsNm: shoulder };
}

function forceTurn(force: Sagittal, at: Sagittal, about: Sagittal): number {
  return (at.x - about.x) * force.y - (at.y - about.y) * force.x;
}

function weightTurn(weights: readonly Weight[], about: Sagittal): number {
  return weights.reduce((sum, { x, massKg }) => sum - (x - about.x) * massKg * GRAVITY_M_PER_S2, 0);
}

const asPoint = ({ x, y }: Sagittal) => [x, y, 0] as const;

function middleOf(joints: Joints, joint: LimbJoint): Sagittal {
  const [x, y] = mix(joints[`left${joint}`], joints[`right${joint}`], 0.5);
  return { x, y };
}

/**
 * Shoulder extensors' share, 0 to 1, of the work that they and the elbow flexors do between two times of a lift: moment
 * times change of angle, summed where it is these muscles that hold the joint. A muscle group that gives way on the whole has done no work.
 * @throws RangeError when neither does any: the body is not being pulled up.
 */
export function shoulderWorkShare(
  body: Body,
  postureAt: (timeS: number) => Posture,
  startS: number,
  topS: number,
): number {
  let [elbowJ, shoulderJ] = [0, 0];
  const timeAt = (step: number): number => startS + ((topS - startS) * step) / LIFT_STEPS;
  const armsAt = (timeS: number) => postureAt(timeS).arms.right;
  let before = armsAt(startS);
  for (let step = 0; step < LIFT_STEPS; step++) {
    const after = armsAt(timeAt(step + 1));
    const moments = pullMoments(body, buildSkeleton(body, postureAt(timeAt(step + 0.5))).joints);
    const bendingRad = toRadians(after.elbowFlexionDeg - before.elbowFlexionDeg);
    const extendingRad = toRadians(before.shoulderFlexionDeg - after.shoulderFlexionDeg);
    elbowJ += Math.max(0, moments.elbowFlexorsNm) * bendingRad;
    shoulderJ += Math.max(0, moments.shoulderExtensorsNm) * extendingRad;
    before = after;
  }
  const [elbow, shoulder] = [Math.max(0, elbowJ), Math.max(0, shoulderJ)];
  if (elbow + shoulder <= 0) throw new RangeError('Neither elbow nor shoulder lifts the body here.');
  return shoulder / (elbow + shoulder);
}
