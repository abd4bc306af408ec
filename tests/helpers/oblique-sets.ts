import type { Body, Side } from '../../demo-clips/generator/body.ts';
import { projectPoint, type Camera } from '../../demo-clips/generator/camera.ts';
import { FREE_CURL, ROOM } from '../../demo-clips/generator/clip-defaults.ts';
import { createBodyCurl } from '../../demo-clips/generator/exercises/bar-pull.ts';
import { createStandingCurl } from '../../demo-clips/generator/exercises/free-curl.ts';
import { createMotionScript } from '../../demo-clips/generator/motion-script.ts';
import type { Performance } from '../../demo-clips/generator/performance.ts';
import { createScenario, posePhantom } from '../../demo-clips/generator/scenario.ts';
import { createWander, type SeededRandom, createRandom } from '../../demo-clips/generator/seeded-random.ts';
import type { ArmAngles, JointName, Joints } from '../../demo-clips/generator/skeleton.ts';
import { add, dot, mix, scale, subtract, type Vec3 } from '../../demo-clips/generator/vector.ts';
import { LANDMARK_NAMES, type LandmarkName } from '../../src/core/pose/landmark.ts';
import type { Pose, PoseFrame } from '../../src/core/pose/pose-frame.ts';
import { PLAIN_LOOKS } from './plain-looks.ts';
import { seededNormal } from './seeded-random.ts';
import { FOLD_SIDE_DEG } from './synthetic-body.ts';

/** What is done in a simulated set. A hold comes after two free bends. */
export type ObliqueKind = 'standing' | 'hold' | 'body-curl';

/** Pictures of a simulated set as an imitated network sees them, and the true flexion in each. */
export interface ObliqueSet {
  readonly side: Side;
  readonly statureCm: number;
  readonly yawDeg: number;
  readonly frames: readonly PoseFrame[];
  readonly truthDeg: readonly number[];
  /** What is judged begins here: of a hold the hold alone. */
  readonly fromSeconds: number;
}

const RATE_HZ = 15;
const HOLD_FROM_SECONDS = 13;

/**
 * How the imitated network errs, upper-arm lengths, one standard deviation. Set so that with the arm's true plane the
 * angle would be off by some 2.7 deg that stay within a set and 2.3 that change, near what was seen on rendered figures;
 * the far side is guessed, so that the body's yaw is off by some 4 deg.
 */
const ERRORS = {
  stays: 0.015,
  wanders: 0.017,
  wanderSeconds: 0.7,
  jitter: 0.008,
  farStays: 0.1,
  farDepthM: 0.04,
  elbowShort: { mean: 0.078, betweenBodies: 0.025, withFlexion: 0.015 },
  /** The far side's shoulder and hip are seen nearer to the middle than they are. */
  farWidth: { mean: 0.82, sd: 0.08 },
  worldDepth: 0.8,
} as const;

/** A set of a body, a camera and a way of moving that follow from the seed alone. */
export function obliqueSet(kind: ObliqueKind, yawDeg: number, seed: number): ObliqueSet {
  for (let attempt = 0; ; attempt++) {
    try {
      return buildSet(kind, yawDeg, seed + 100_000 * attempt);
    } catch (error) {
      // A body whose legs do not reach from the ankles to where the bar holds it: another one is taken.
      if (!(error instanceof RangeError) || attempt > 20) throw error;
    }
  }
}

function buildSet(kind: ObliqueKind, aboutYawDeg: number, seed: number): ObliqueSet {
  const random = createRandom(seed * 7919 + aboutYawDeg);
  const normal = seededNormal(seed * 31 + aboutYawDeg);
  const side = random.pick<Side>(['left', 'right']);
  const yawDeg = (aboutYawDeg + random.between(-3, 3)) * random.pick([1, -1]);
  const statureM = random.between(1.52, 1.94);
  const scenario = createScenario({
    name: 'simulated',
    seed,
    shows: 'a simulated set',
    exercise: 'free-curl',
    side,
    fps: RATE_HZ,
    camera: {
      facingSide: side,
      yawDeg,
      rollDeg: random.between(-1, 1),
      distanceM: random.between(2.4, 3.6),
      heightM: random.between(0.75, 1.5),
      lookAt: [random.between(-0.15, 0.15), random.between(0.85, 1), 0],
      verticalFieldOfViewDeg: random.between(36, 56),
      widthPx: 640,
      heightPx: 480,
    },
    room: ROOM,
    people: [
      {
        body: {
          statureM,
          bodyMassIndex: 23,
          looks: PLAIN_LOOKS,
        },
        perform: (body, own) => movement(kind, body, side, own, normal),
      },
    ],
  });
  const network = new ImitatedNetwork(scenario.camera, side, statureM * 0.186, seed);
  const frames: PoseFrame[] = [];
  const truthDeg: number[] = [];
  for (let i = 0; i < scenario.frameCount; i++) {
    const timeSeconds = i / RATE_HZ;
    const phantom = posePhantom(scenario, timeSeconds);
    if (phantom === null) continue;
    frames.push({
      timeSeconds,
      widthPx: 640,
      heightPx: 480,
      pose: network.see(phantom.joints, phantom.elbowFlexionDeg),
      people: null,
      brightness: null,
    });
    truthDeg.push(phantom.elbowFlexionDeg);
  }
  const fromSeconds = kind === 'hold' ? HOLD_FROM_SECONDS : 0;
  return { side, statureCm: 100 * statureM, yawDeg, frames, truthDeg, fromSeconds };
}

/** The movement with an arm's plane of its own, which drifts a little. */
function movement(
  kind: ObliqueKind,
  body: Body,
  side: Side,
  random: SeededRandom,
  normal: () => number,
): Performance {
  const planted = kind === 'body-curl';
  const lowDeg = random.between(8, 26);
  const highDeg = planted ? random.between(95, 112) : random.between(108, 140);
  const plan = { ...FREE_CURL.plan, count: planted ? 4 : 3, lowDeg, highDeg };
  const base = planted
    ? createBodyCurl(body, { reach: 0.843, directionDeg: -12 }, plan, random.fork('set'))
    : createStandingCurl(
        body,
        side,
        { ...FREE_CURL, plan, shoulderTravelDeg: random.between(2, 14) },
        random.fork('set'),
      );
  const abductionDeg = planted ? Math.abs(4 + 4 * normal()) : Math.min(22, Math.abs(8 + 5 * normal()));
  const rotationDeg = planted ? 5 * normal() : 2 + 7 * normal();
  const drift = createWander(random.fork('abduction'), 4, 0.1);
  const turn = createWander(random.fork('rotation'), 6, 0.15);
  const holdDeg = random.between(75, 105);
  const tremor = createWander(random.fork('hold'), 3, 0.08);
  const bends = createMotionScript(lowDeg, [
    { toDeg: lowDeg, durationS: 1 },
    { toDeg: highDeg, durationS: 2 },
    { toDeg: lowDeg, durationS: 2.5 },
    { toDeg: lowDeg, durationS: 0.5 },
    { toDeg: highDeg, durationS: 2 },
    { toDeg: lowDeg, durationS: 2.5 },
    { toDeg: holdDeg, durationS: 2 },
    { toDeg: holdDeg, durationS: 15 },
  ]);
  return {
    ...base,
    durationS: kind === 'hold' ? bends.durationS : base.durationS,
    postureAt(timeS) {
      const posture = base.postureAt(kind === 'hold' ? 0.5 : timeS);
      if (posture === null) return null;
      const working = posture.arms[side];
      const arm: ArmAngles = {
        ...working,
        shoulderAbductionDeg: abductionDeg + drift(timeS),
        humeralRotationDeg: rotationDeg + turn(timeS),
        elbowFlexionDeg: kind === 'hold' ? bends.valueAt(timeS) + tremor(timeS) : working.elbowFlexionDeg,
      };
      return { ...posture, arms: { ...posture.arms, [side]: arm } };
    },
  };
}

/** The joint that a landmark stands for. */
function jointOf(name: LandmarkName): JointName {
  if (name === 'nose' || name.startsWith('mouth')) return 'nose';
  const side = name.startsWith('left') ? 'left' : 'right';
  if (name.includes('eye')) return `${side}Eye`;
  if (name.includes('foot_index')) return `${side}Toe`;
  if (name.includes('ear')) return `${side}Ear`;
  if (name.includes('shoulder')) return `${side}Shoulder`;
  if (name.includes('elbow')) return `${side}Elbow`;
  if (name.includes('wrist')) return `${side}Wrist`;
  if (name.includes('pinky')) return `${side}Pinky`;
  if (name.includes('index')) return `${side}Index`;
  if (name.includes('thumb')) return `${side}Thumb`;
  if (name.includes('hip')) return `${side}Hip`;
  if (name.includes('knee')) return `${side}Knee`;
  return name.includes('ankle') ? `${side}Ankle` : `${side}Heel`;
}

/** A wrist to the side to which the forearm folds, by as much as makes the elbow look more bent. */
function towardsFold(shoulder: Vec3, elbow: Vec3, wrist: Vec3): Vec3 {
  const forearm = subtract(wrist, elbow);
  const back = subtract(shoulder, elbow);
  const along = dot(back, forearm) / dot(forearm, forearm);
  const aside = subtract(back, scale(forearm, along));
  const size = Math.tan((FOLD_SIDE_DEG * Math.PI) / 180) * Math.sqrt(dot(forearm, forearm));
  return add(wrist, scale(aside, size / Math.sqrt(dot(aside, aside))));
}

/** Sees joints as a pose network does: a little wrong, alike from picture to picture, the far side most. */
class ImitatedNetwork {
  readonly #camera: Camera;
  readonly #far: Side;
  readonly #upperArmM: number;
  readonly #normal: () => number;
  readonly #stays: { x: number; y: number; depth: number }[];
  readonly #wanders: { x: number; y: number }[];
  readonly #elbowShort: number;
  readonly #elbowWithFlexion: number;
  readonly #farWidth: number;

  constructor(camera: Camera, side: Side, upperArmM: number, seed: number) {
    this.#camera = camera;
    this.#far = side === 'left' ? 'right' : 'left';
    this.#upperArmM = upperArmM;
    const normal = seededNormal(seed + 500_000);
    this.#normal = normal;
    this.#stays = LANDMARK_NAMES.map(() => ({ x: normal(), y: normal(), depth: normal() }));
    this.#wanders = LANDMARK_NAMES.map(() => ({ x: normal(), y: normal() }));
    this.#elbowShort = ERRORS.elbowShort.mean + ERRORS.elbowShort.betweenBodies * normal();
    this.#elbowWithFlexion = ERRORS.elbowShort.withFlexion * normal();
    this.#farWidth = ERRORS.farWidth.mean + ERRORS.farWidth.sd * normal();
  }

  see(joints: Joints, flexionDeg: number): Pose {
    const camera = this.#camera;
    const places = LANDMARK_NAMES.map((name) => this.#place(name, joints, flexionDeg));
    const middle = joints.midHip;
    const keep = Math.exp(-1 / RATE_HZ / ERRORS.wanderSeconds);
    const image = places.map((place, i) => {
      const at = projectPoint(camera, place);
      const px = (this.#upperArmM * camera.focalPx) / at.depthM;
      const wander = this.#wanders[i] ?? { x: 0, y: 0 };
      const far = LANDMARK_NAMES[i]?.startsWith(this.#far) ?? false;
      for (const axis of ['x', 'y'] as const)
        wander[axis] = keep * wander[axis] + Math.sqrt(1 - keep ** 2) * this.#normal();
      const error = (axis: 'x' | 'y'): number =>
        px *
        ((far ? ERRORS.farStays : ERRORS.stays) * (this.#stays[i]?.[axis] ?? 0) +
          ERRORS.wanders * wander[axis] +
          ERRORS.jitter * this.#normal());
      return { x: at.xPx + error('x'), y: at.yPx + error('y'), visibility: far ? 0.6 : 0.98 };
    });
    const world = places.map((place, i) => {
      const offset = subtract(place, middle);
      const far = LANDMARK_NAMES[i]?.startsWith(this.#far) ?? false;
      const wrong = far ? ERRORS.farDepthM * (this.#stays[i]?.depth ?? 0) : 0;
      return {
        x: dot(offset, camera.right),
        y: -dot(offset, camera.up),
        z: ERRORS.worldDepth * dot(offset, camera.forward) + wrong,
      };
    });
    return { image, world };
  }

  /** Where the network puts a joint in the room. */
  #place(name: LandmarkName, joints: Joints, flexionDeg: number): Vec3 {
    const joint = joints[jointOf(name)];
    if (name.endsWith('elbow')) {
      const short = this.#elbowShort + (this.#elbowWithFlexion * (flexionDeg - 70)) / 60;
      return mix(joint, joints[name.startsWith('left') ? 'leftShoulder' : 'rightShoulder'], short);
    }
    if (name.endsWith('wrist')) {
      const side = name.startsWith('left') ? 'left' : 'right';
      return towardsFold(joints[`${side}Shoulder`], joints[`${side}Elbow`], joint);
    }
    if (name === `${this.#far}_shoulder`) return this.#narrowed(joint, joints.midShoulder);
    if (name === `${this.#far}_hip`) return this.#narrowed(joint, joints.midHip);
    return joint;
  }

  #narrowed(joint: Vec3, middle: Vec3): Vec3 {
    return add(middle, scale(subtract(joint, middle), this.#farWidth));
  }
}
