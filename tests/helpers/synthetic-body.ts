import { LANDMARK_NAMES, otherSide, type Side } from '../../src/core/pose/landmark.ts';
import type { ImageLandmark, Pose, PoseFrame, WorldLandmark } from '../../src/core/pose/pose-frame.ts';
import { seededNormal } from './seeded-random.ts';

/** A stick body. Lengths as fractions of stature; the defaults are the table of Drillis and Contini. */
export interface Body {
  readonly statureM: number;
  readonly trunk: number;
  readonly thigh: number;
  readonly shank: number;
  readonly upperArm: number;
  readonly forearm: number;
  readonly shoulderHalfWidth: number;
  readonly hipHalfWidth: number;
}

export const AVERAGE_BODY: Body = {
  statureM: 1.75,
  trunk: 0.288,
  thigh: 0.245,
  shank: 0.246,
  upperArm: 0.186,
  forearm: 0.146,
  shoulderHalfWidth: 0.112,
  hipHalfWidth: 0.06,
};

/** A posture in the body's plane of symmetry; angles in degrees, by the conventions of the measuring page. */
export interface Posture {
  readonly elbowFlexionDeg: number;
  readonly shoulderFlexionDeg: number;
  /** Positive leaning forward, -90 lying on the back. */
  readonly trunkLeanDeg: number;
  readonly hipAngleDeg: number;
  readonly kneeFlexionDeg: number;
  /** Tilt of the arm's plane away from the body. */
  readonly abductionDeg: number;
  readonly otherElbowFlexionDeg: number;
  readonly pelvisForwardM: number;
  readonly pelvisUpM: number;
}

export const STANDING: Posture = {
  elbowFlexionDeg: 0,
  shoulderFlexionDeg: 0,
  trunkLeanDeg: 0,
  hipAngleDeg: 180,
  kneeFlexionDeg: 0,
  abductionDeg: 0,
  otherElbowFlexionDeg: 10,
  pelvisForwardM: 0,
  pelvisUpM: 0.93,
};

/** Where the camera stands. yaw 0: square to the body's plane of symmetry; positive: the front shows. */
export interface Camera {
  readonly yawDeg: number;
  /** Positive looks down. */
  readonly pitchDeg: number;
  readonly distanceM: number;
  readonly heightM: number;
  readonly verticalFieldDeg: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

const SQUARE_CAMERA: Camera = {
  yawDeg: 0,
  pitchDeg: 0,
  distanceM: 3,
  heightM: 1,
  verticalFieldDeg: 50,
  widthPx: 640,
  heightPx: 480,
};

/** forward and up in the body's plane of symmetry, lateral towards the treated side; metres. */
interface BodyPoint {
  readonly forward: number;
  readonly up: number;
  readonly lateral: number;
}

const RAD = Math.PI / 180;

/** The network puts an elbow short of its joint, towards the shoulder, by this part of the upper arm. */
export const ELBOW_SHORT = 0.078;
/** It puts the wrist to the side to which the forearm folds, so that the elbow looks more bent by so many degrees. */
export const FOLD_SIDE_DEG = 1.8;

/** How the imitated network errs. Lengths are fractions of stature. */
export interface Noise {
  /** A landmark's own offset that stays for the whole set. */
  readonly systematic: number;
  /** Frame-to-frame jitter. */
  readonly jitter: number;
  /** How much more the far side's landmarks are off. */
  readonly farFactor: number;
}

export const NO_NOISE: Noise = { systematic: 0, jitter: 0, farFactor: 1 };
/** Gives an elbow error of about 3 deg on average in a square view, as the real network showed on rendered figures. */
export const NETWORK_NOISE: Noise = { systematic: 0.004, jitter: 0.002, farFactor: 2 };

function between(from: BodyPoint, to: BodyPoint, share: number): BodyPoint {
  return {
    forward: from.forward + (to.forward - from.forward) * share,
    up: from.up + (to.up - from.up) * share,
    lateral: from.lateral + (to.lateral - from.lateral) * share,
  };
}

function skeleton(body: Body, posture: Posture, foldSideDeg: number): Map<string, BodyPoint> {
  const h = body.statureM;
  const lean = posture.trunkLeanDeg * RAD;
  const trunk = { forward: Math.sin(lean), up: Math.cos(lean) };
  const front = { forward: Math.cos(lean), up: -Math.sin(lean) };
  const points = new Map<string, BodyPoint>();
  const add = (from: BodyPoint, alongTrunk: number, alongFront: number, lateral: number): BodyPoint => ({
    forward: from.forward + alongTrunk * trunk.forward + alongFront * front.forward,
    up: from.up + alongTrunk * trunk.up + alongFront * front.up,
    lateral: from.lateral + lateral,
  });
  const pelvis: BodyPoint = { forward: posture.pelvisForwardM, up: posture.pelvisUpM, lateral: 0 };
  const neck = add(pelvis, body.trunk * h, 0, 0);
  points.set('nose', add(neck, 0.11 * h, 0.06 * h, 0));
  for (const [name, sign, elbowDeg] of [
    ['treated', 1, posture.elbowFlexionDeg],
    ['other', -1, posture.otherElbowFlexionDeg],
  ] as const) {
    const set = (landmark: string, point: BodyPoint): BodyPoint => {
      points.set(`${name}_${landmark}`, point);
      return point;
    };
    set('ear', add(neck, 0.12 * h, 0, sign * 0.04 * h));
    set('eye', add(neck, 0.13 * h, 0.05 * h, sign * 0.018 * h));
    set('mouth', add(neck, 0.085 * h, 0.05 * h, sign * 0.015 * h));
    // The arm's plane is tilted about the front axis: what hangs down also goes outwards.
    const tilt = posture.abductionDeg * RAD;
    const limb = (from: BodyPoint, lengthM: number, deg: number): BodyPoint => {
      const [down, ahead] = [Math.cos(deg * RAD) * lengthM, Math.sin(deg * RAD) * lengthM];
      return add(from, -down * Math.cos(tilt), ahead, sign * down * Math.sin(tilt));
    };
    const shoulder = set('shoulder', add(neck, 0, 0, sign * body.shoulderHalfWidth * h));
    const upperArmDeg = name === 'treated' ? posture.shoulderFlexionDeg : 0;
    const elbow = limb(shoulder, body.upperArm * h, upperArmDeg);
    const forearmDeg = upperArmDeg + elbowDeg;
    set('elbow', between(elbow, shoulder, ELBOW_SHORT));
    const wrist = set('wrist', limb(elbow, body.forearm * h, forearmDeg + foldSideDeg));
    for (const knuckle of ['pinky', 'index', 'thumb']) set(knuckle, limb(wrist, 0.05 * h, forearmDeg));
    const hip = set('hip', add(pelvis, 0, 0, sign * body.hipHalfWidth * h));
    const leg = (from: BodyPoint, lengthM: number, deg: number): BodyPoint =>
      add(from, -Math.cos(deg * RAD) * lengthM, Math.sin(deg * RAD) * lengthM, 0);
    const thighDeg = 180 - posture.hipAngleDeg;
    const knee = set('knee', leg(hip, body.thigh * h, thighDeg));
    const ankle = set('ankle', leg(knee, body.shank * h, thighDeg - posture.kneeFlexionDeg));
    const footDeg = thighDeg - posture.kneeFlexionDeg + 90;
    set('heel', leg(ankle, -0.03 * h, footDeg));
    set('foot_index', leg(ankle, 0.11 * h, footDeg));
  }
  return points;
}

/** Camera coordinates: across grows with forward, towards the camera is positive. */
function intoCamera(point: BodyPoint, camera: Camera): { across: number; up: number; depth: number } {
  const [sin, cos] = [Math.sin(camera.yawDeg * RAD), Math.cos(camera.yawDeg * RAD)];
  const across = point.forward * cos - point.lateral * sin;
  const towards = point.lateral * cos + point.forward * sin;
  const level = { up: point.up - camera.heightM, depth: camera.distanceM - towards };
  const [sinP, cosP] = [Math.sin(camera.pitchDeg * RAD), Math.cos(camera.pitchDeg * RAD)];
  return {
    across,
    up: level.up * cosP + level.depth * sinP,
    depth: level.depth * cosP - level.up * sinP,
  };
}

/** The body's point behind a landmark's name. */
function pointOf(points: Map<string, BodyPoint>, name: string, side: Side): BodyPoint {
  const sided = (own: Side, landmark: string): BodyPoint | undefined =>
    points.get(`${own === side ? 'treated' : 'other'}_${landmark}`);
  const plain = name.replace(/_(inner|outer)$/, '');
  const match = /^(left|right)_(.*)$/.exec(plain) ?? /^(mouth)_(left|right)$/.exec(plain);
  let point = points.get(plain);
  if (match?.[1] === 'mouth') point = sided(match[2] === 'left' ? 'left' : 'right', 'mouth');
  else if (match) point = sided(match[1] === 'left' ? 'left' : 'right', match[2] ?? '');
  if (!point) throw new Error(`synthetic body: no point for "${name}".`);
  return point;
}

/** Makes pictures of one body as an imitated network sees them, with errors from a seed. */
export class SyntheticNetwork {
  readonly #normal: () => number;
  readonly #offsets: { x: number; y: number }[];
  readonly #jitter: { x: number; y: number }[];
  readonly body: Body;
  readonly camera: Camera;
  readonly side: Side;
  readonly noise: Noise;
  readonly #foldSideDeg: number;

  constructor(options: {
    body?: Body;
    camera?: Partial<Camera>;
    side?: Side;
    noise?: Noise;
    seed?: number;
    foldSideDeg?: number;
  }) {
    this.body = options.body ?? AVERAGE_BODY;
    this.camera = { ...SQUARE_CAMERA, ...options.camera };
    this.side = options.side ?? 'left';
    this.noise = options.noise ?? NO_NOISE;
    this.#foldSideDeg = options.foldSideDeg ?? FOLD_SIDE_DEG;
    this.#normal = seededNormal(options.seed ?? 1);
    this.#offsets = LANDMARK_NAMES.map(() => ({ x: this.#normal(), y: this.#normal() }));
    this.#jitter = LANDMARK_NAMES.map(() => ({ x: 0, y: 0 }));
  }

  /** The landmarks of a posture. Far-side arms that lie behind the body have a low visibility. */
  pose(posture: Posture): Pose {
    const { camera, body, side, noise } = this;
    const points = skeleton(body, posture, this.#foldSideDeg);
    const focalPx = camera.heightPx / 2 / Math.tan((camera.verticalFieldDeg / 2) * RAD);
    const mirror = side === 'left' ? -1 : 1;
    const pelvis = intoCamera({ forward: posture.pelvisForwardM, up: posture.pelvisUpM, lateral: 0 }, camera);
    const image: ImageLandmark[] = [];
    const world: WorldLandmark[] = [];
    const farSide = Math.abs(camera.yawDeg) <= 90 ? otherSide(side) : side;
    LANDMARK_NAMES.forEach((name, i) => {
      const at = intoCamera(pointOf(points, name, side), camera);
      const isFar = name.startsWith(farSide);
      const jitter = this.#jitter[i] ?? { x: 0, y: 0 };
      // Errors of neighbouring pictures resemble each other.
      jitter.x = 0.6 * jitter.x + 0.8 * this.#normal();
      jitter.y = 0.6 * jitter.y + 0.8 * this.#normal();
      const pxPerM = focalPx / at.depth;
      const factor = body.statureM * pxPerM * (isFar ? noise.farFactor : 1);
      const offset = this.#offsets[i] ?? { x: 0, y: 0 };
      const hidden =
        isFar && /elbow|wrist|pinky|index|thumb/.test(name) && Math.abs(Math.cos(camera.yawDeg * RAD)) > 0.8;
      image.push({
        x:
          camera.widthPx / 2 +
          mirror * at.across * pxPerM +
          factor * (noise.systematic * offset.x + noise.jitter * jitter.x),
        y:
          camera.heightPx / 2 -
          at.up * pxPerM +
          factor * (noise.systematic * offset.y + noise.jitter * jitter.y),
        visibility: hidden ? 0.1 : 0.97,
      });
      world.push({
        x: mirror * (at.across - pelvis.across),
        y: -(at.up - pelvis.up),
        // The network's depth is compressed.
        z: 0.8 * (at.depth - pelvis.depth),
      });
    });
    return { image, world };
  }

  /** The frame of a posture at a time. */
  frame(posture: Posture, timeSeconds: number): PoseFrame {
    return {
      timeSeconds,
      widthPx: this.camera.widthPx,
      heightPx: this.camera.heightPx,
      pose: this.pose(posture),
      people: null,
      brightness: null,
    };
  }

  /** A film of a movement. */
  film(posture: (timeSeconds: number) => Posture, seconds: number, rateHz: number): PoseFrame[] {
    return Array.from({ length: Math.floor(seconds * rateHz) }, (_, i) =>
      this.frame(posture(i / rateHz), i / rateHz),
    );
  }
}

/** A frame with the pose changed. */
export function withPose(frame: PoseFrame, change: (pose: Pose) => Pose | null): PoseFrame {
  return { ...frame, pose: frame.pose && change(frame.pose) };
}

/** The frame moved and scaled in the picture, pixels. */
export function transformed(frame: PoseFrame, change: (point: ImageLandmark) => ImageLandmark): PoseFrame {
  return withPose(frame, (pose) => ({ ...pose, image: pose.image.map(change) }));
}

/** A curl: the elbow bends and straightens once every periodSeconds between two angles, degrees. */
export function curl(
  options: { fromDeg?: number; toDeg?: number; periodSeconds?: number } & Partial<Posture> = {},
): (timeSeconds: number) => Posture {
  const { fromDeg = 10, toDeg = 130, periodSeconds = 4, ...posture } = options;
  return (t) => ({
    ...STANDING,
    ...posture,
    elbowFlexionDeg: fromDeg + ((toDeg - fromDeg) * (1 - Math.cos((2 * Math.PI * t) / periodSeconds))) / 2,
  });
}
