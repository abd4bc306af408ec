import type {
  KinematicFrame,
  KinematicSeries,
  PlanePoint,
} from '../../src/core/kinematics/kinematic-frame.ts';
import {
  estimate,
  notMeasured,
  type Measured,
  type NotMeasuredReason,
} from '../../src/core/kinematics/measured.ts';
import { seededNormal } from './seeded-random.ts';

/** The posture of a person seen from the side, from which a frame is built; angles in degrees, lengths in upper arms. */
export interface Posture {
  readonly elbowDeg: number;
  /** Upper arm against trunk, positive in front. */
  readonly shoulderDeg?: number;
  /** Trunk from the vertical, positive leaning back. */
  readonly leanDeg?: number;
  /** Trunk against thigh, 180 in line. */
  readonly hipDeg?: number;
  readonly forearmRotationDeg?: number;
  /** Where the shoulder is; where `handAt` is given the body hangs from the hand instead. */
  readonly shoulderAt?: PlanePoint;
  readonly handAt?: PlanePoint;
  /** Added to the ankle's place, for feet that walk. */
  readonly ankleShift?: number;
  /** Added to the hand's place. */
  readonly handShift?: PlanePoint;
  /** Why this frame is not measured. */
  readonly unseen?: NotMeasuredReason;
  /** Leaves the row indicators' points out. */
  readonly handUnseen?: boolean;
}

/** How a posture becomes measured frames. */
export interface TraceOptions {
  readonly seconds: number;
  readonly posture: (timeSeconds: number) => Posture;
  readonly rateHz?: number;
  readonly seed?: number;
  /** Standard deviation of the elbow's noise, degrees, and its correlation time. */
  readonly noiseDeg?: number;
  readonly noiseSeconds?: number;
  /** Standard deviation of a point's place, upper-arm lengths. */
  readonly pointNoise?: number;
  /** Shifts each time by up to a quarter of this share of a step either way. */
  readonly jitter?: number;
  /** Half-width of the angles' intervals, degrees. */
  readonly halfWidthDeg?: number;
  readonly upperArmCm?: number | null;
}

/** Lengths of the figure in upper arms, from segment fractions of stature (Drillis and Contini, in Winter's table). */
const FOREARM = 0.146 / 0.186;
const HALF_HAND = 0.054 / 0.186;
const TRUNK = 0.288 / 0.186;
/** Where the feet stand: a straight body's length of thigh and shank below hips that hang below the origin. */
const FEET: PlanePoint = { forward: 0, up: -TRUNK - (0.245 + 0.246) / 0.186 };

const along = (from: PlanePoint, directionDeg: number, length: number): PlanePoint => ({
  forward: from.forward + length * Math.cos((directionDeg * Math.PI) / 180),
  up: from.up + length * Math.sin((directionDeg * Math.PI) / 180),
});

/** Directions are counted from forward towards up: hanging down is -90. */
function bodyOf(posture: Posture) {
  const { elbowDeg, shoulderDeg = 0, leanDeg = 0, handShift } = posture;
  const trunkDown = -90 + leanDeg;
  const upperArm = trunkDown + shoulderDeg;
  const forearm = upperArm + elbowDeg;
  const fromShoulder = (shoulder: PlanePoint) => {
    const elbow = along(shoulder, upperArm, 1);
    const wrist = along(elbow, forearm, FOREARM);
    return { elbow, wrist, hand: along(wrist, forearm, HALF_HAND) };
  };
  let shoulder = posture.shoulderAt ?? { forward: 0, up: 0 };
  if (posture.handAt) {
    const { hand } = fromShoulder({ forward: 0, up: 0 });
    shoulder = { forward: posture.handAt.forward - hand.forward, up: posture.handAt.up - hand.up };
  }
  const arm = fromShoulder(shoulder);
  const hip = along(shoulder, trunkDown, TRUNK);
  // The feet stay: the legs reach from wherever the hips are.
  const ankle = { forward: FEET.forward + (posture.ankleShift ?? 0), up: FEET.up };
  const knee = { forward: (hip.forward + ankle.forward) / 2 + 0.3, up: (hip.up + ankle.up) / 2 };
  const shift = handShift ?? { forward: 0, up: 0 };
  const moved = (p: PlanePoint): PlanePoint => ({ forward: p.forward + shift.forward, up: p.up + shift.up });
  return {
    shoulder,
    elbow: arm.elbow,
    wrist: moved(arm.wrist),
    hand: moved(arm.hand),
    hip,
    knee,
    ankle,
    midShoulder: shoulder,
    midHip: hip,
    forearm,
    upperArm,
    trunkDown,
  };
}

/**
 * Noise whose neighbours are alike, as landmark noise is: a first-order autoregression of the given standard deviation
 * and correlation time, read at rising times.
 */
export function correlatedNoise(
  random: () => number,
  sd: number,
  correlationSeconds: number,
): (timeSeconds: number) => number {
  let value = sd * random();
  let last: number | null = null;
  return (timeSeconds) => {
    if (last !== null) {
      const keep = Math.exp(-Math.abs(timeSeconds - last) / correlationSeconds);
      value = keep * value + Math.sqrt(1 - keep * keep) * sd * random();
    }
    last = timeSeconds;
    return value;
  };
}

/** A measured series of a moving figure, seeded. Without noise the values are exact. */
export function traceSeries(options: TraceOptions): KinematicSeries {
  const {
    seconds,
    posture,
    rateHz = 30,
    seed = 1,
    noiseDeg = 0,
    noiseSeconds = 0.1,
    pointNoise = 0,
  } = options;
  const { jitter = 0, halfWidthDeg = 5, upperArmCm = 31 } = options;
  const random = seededNormal(seed);
  const elbowNoise = correlatedNoise(random, noiseDeg, noiseSeconds);
  const shoulderNoise = correlatedNoise(random, noiseDeg, noiseSeconds);
  const wobble = Array.from({ length: 18 }, () => correlatedNoise(random, pointNoise, noiseSeconds));
  const frames: KinematicFrame[] = [];
  let firstShoulder: PlanePoint | null = null;
  for (let i = 0; i <= seconds * rateHz; i++) {
    const timeSeconds = (i + jitter * 0.25 * Math.tanh(random())) / rateHz;
    const now = posture(timeSeconds);
    const body = bodyOf(now);
    let k = 0;
    const noisy = (p: PlanePoint): PlanePoint => ({
      forward: p.forward + (wobble[k++]?.(timeSeconds) ?? 0),
      up: p.up + (wobble[k++]?.(timeSeconds) ?? 0),
    });
    const points = {
      shoulder: noisy(body.shoulder),
      elbow: noisy(body.elbow),
      wrist: noisy(body.wrist),
      hand: noisy(body.hand),
      hip: noisy(body.hip),
      knee: noisy(body.knee),
      ankle: noisy(body.ankle),
      midShoulder: noisy(body.midShoulder),
      midHip: noisy(body.midHip),
    };
    firstShoulder ??= points.midShoulder;
    const unseen = now.unseen ?? null;
    const seen = (value: number, halfWidth = halfWidthDeg): Measured =>
      unseen ? notMeasured(unseen) : estimate(value, halfWidth);
    const travel = Math.hypot(
      points.midShoulder.forward - firstShoulder.forward,
      points.midShoulder.up - firstShoulder.up,
    );
    const shoulderDeg = (now.shoulderDeg ?? 0) + shoulderNoise(timeSeconds);
    frames.push({
      timeSeconds,
      reason: unseen,
      elbowFlexionDeg: seen(now.elbowDeg + elbowNoise(timeSeconds)),
      otherElbowFlexionDeg: notMeasured('arm-not-seen'),
      shoulderFlexionDeg: seen(shoulderDeg),
      trunkInclinationDeg: seen(Math.abs(now.leanDeg ?? 0)),
      forearmFromHorizontalDeg: seen((Math.asin(Math.sin((body.forearm * Math.PI) / 180)) * 180) / Math.PI),
      forearmRotationDeg:
        now.forearmRotationDeg === undefined
          ? notMeasured('hand-not-seen')
          : seen(now.forearmRotationDeg, 15),
      hipAngleDeg: seen(now.hipDeg ?? 180),
      torsoTravelCm: upperArmCm === null ? notMeasured('no-stature') : seen(travel * upperArmCm, 2),
      torsoTravelUpperArms: seen(travel, 0.06),
      elbowBehindTrunkUpperArms: seen(-Math.sin((shoulderDeg * Math.PI) / 180), 0.08),
      pointSdUpperArms: unseen ? null : 0.03,
      body: unseen
        ? UNSEEN
        : {
            ...points,
            hand: now.handUnseen ? null : points.hand,
            wrist: now.handUnseen ? null : points.wrist,
          },
    });
  }
  return {
    frames,
    view: {
      cameraYawDeg: 0,
      method: 'image-plane',
      upperArmCm,
      scaleSource: upperArmCm === null ? null : 'trunk',
      lowPassHz: null,
      rateHz: null,
    },
  };
}

const UNSEEN = {
  shoulder: null,
  elbow: null,
  wrist: null,
  hand: null,
  hip: null,
  knee: null,
  ankle: null,
  midShoulder: null,
  midHip: null,
};

/** How a movement goes from one level to the next, share of the way at share x of its time. */
export type Course = (x: number) => number;

/** Speed ramps up over a share of the time, stays, ramps down. */
const trapezoid =
  (ramp: number): Course =>
  (x) => {
    const top = 1 / (1 - ramp);
    if (x < ramp) return (top * x * x) / (2 * ramp);
    if (x > 1 - ramp) return 1 - (top * (1 - x) ** 2) / (2 * ramp);
    return top * (x - ramp / 2);
  };

/** Courses that movements of people take. */
export const COURSES = {
  linear: (x) => x,
  cosine: (x) => (1 - Math.cos(Math.PI * x)) / 2,
  minimumJerk: (x) => x ** 3 * (10 - 15 * x + 6 * x * x),
  trapezoid15: trapezoid(0.15),
  trapezoid25: trapezoid(0.25),
  trapezoid40: trapezoid(0.4),
  cubic: (x) => x * x * (3 - 2 * x),
  /** Fast off the top, slow into the end. */
  slowEnd: (x) => 1 - (1 - x) ** 3 * (1 + 3 * x),
} as const satisfies Record<string, Course>;

/** One leg of a trace: a move to a level, or a rest at it. */
export interface Leg {
  readonly seconds: number;
  readonly to: number;
  readonly course?: Course;
}

/** A level over time along legs, from a first level; held after the last. */
export function alongLegs(from: number, legs: readonly Leg[]): (timeSeconds: number) => number {
  return (timeSeconds) => {
    let level = from;
    let start = 0;
    for (const { seconds, to, course = COURSES.cosine } of legs) {
      if (timeSeconds < start + seconds) {
        return level + (to - level) * course(Math.max(0, (timeSeconds - start) / seconds));
      }
      level = to;
      start += seconds;
    }
    return level;
  };
}

/** Seconds of all legs. */
export function secondsOfLegs(legs: readonly Leg[]): number {
  return legs.reduce((sum, leg) => sum + leg.seconds, 0);
}
