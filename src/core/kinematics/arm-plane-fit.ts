import { covarianceAt, descend, huberWeight, type Evaluation } from '../math/levenberg-marquardt.ts';
import type { LeastSquaresProblem } from '../math/levenberg-marquardt.ts';
import { clamp, median } from '../math/statistics.ts';
import { chooseArms } from './arm-plane-frames.ts';
import { ARM_PLANE } from './arm-plane-limits.ts';
import { priorOf, type BodyView, type PlanePrior } from './arm-plane-prior.ts';
import {
  armOnPlane,
  dot,
  lengthOf,
  planeNormal,
  steepness,
  type ArmPlane,
  type ArmRays,
  type Vector,
} from './arm-plane.ts';

/** The plane of a set with how sure it is. */
export interface ArmPlaneFit {
  readonly plane: ArmPlane;
  /** Log of the upper arm's length in the unit of the plane's distance, and of the forearm's over it. */
  readonly logUpperArm: number;
  readonly logRatio: number;
  /** Covariance of yaw (deg), tilt (deg), both logs and the elbow's shortfall (upper-arm lengths), in this order. */
  readonly covariance: readonly (readonly number[])[];
  readonly yawSdDeg: number;
  /** The body's own yaw after the fit, degrees, and its standard deviation. */
  readonly bodyYawDeg: number;
  readonly bodyYawSdDeg: number;
  /** How far the arm's lengths are from keeping their size, in the middle picture, in standard deviations of their noise. */
  readonly misfit: number;
  /**
   * How far the arm is from what arms are, in standard deviations between people: the forearm's length over the upper
   * arm's and the elbow's shortfall, taken together.
   */
  readonly strangeness: number;
  /** How many pictures were fitted; 0 for a plane that is the body's alone. */
  readonly fittedFrames: number;
}

/** Parameters in order: yaw and tilt in degrees, log upper-arm length, log of forearm over upper arm, elbow's shortfall. */
const YAW = 0;
const TILT = 1;
const LOG_UPPER_ARM = 2;
const LOG_RATIO = 3;
const ELBOW_SHORT = 4;
const DERIVATIVE_STEPS = [0.01, 0.01, 1e-4, 1e-4, 1e-4];

/** Of the log upper-arm length nothing is known but that it is about what is seen: one standard deviation. */
const LOG_UPPER_ARM_SD = 1;

/** How often weights are renewed, and the descent within each. */
const WEIGHT_ROUNDS = 3;
const ROUNDS = 14;
const LEAST_GAIN = 1e-6;

/** Where parameters may go: a plane seen edge on, or an elbow at the shoulder, has no angle. */
const FURTHEST_DEG = 75;
const FURTHEST_SHORT = 0.3;

/** Weights of one arm's two lengths: 1 over the standard deviation that is given to each. */
interface LengthWeights {
  readonly upperArm: number;
  readonly forearm: number;
}

function planeOf(parameters: readonly number[]): ArmPlane {
  return {
    yawDeg: parameters[YAW] ?? 0,
    tiltDeg: parameters[TILT] ?? 0,
    elbowShort: parameters[ELBOW_SHORT] ?? 0,
  };
}

/** How far the two log lengths of an arm are from those of the set. */
function misfit(rays: ArmRays, normal: Vector, parameters: readonly number[]): [number, number] {
  const { upperArm, forearm } = armOnPlane(rays, normal, parameters[ELBOW_SHORT] ?? 0);
  const logUpperArm = parameters[LOG_UPPER_ARM] ?? 0;
  return [
    Math.log(Math.max(1e-6, lengthOf(upperArm))) - logUpperArm,
    Math.log(Math.max(1e-6, lengthOf(forearm))) - logUpperArm - (parameters[LOG_RATIO] ?? 0),
  ];
}

/** What of a movement of a point across the picture, by one in the rays' unit, lengthens a segment along a direction. */
function stretch(ray: Vector, normal: Vector, along: Vector): number {
  const near = steepness(ray, normal);
  const slant = dot(along, ray) / near ** 2;
  return Math.hypot(along[0] / near + slant * normal[0], along[1] / near + slant * normal[1]);
}

/** Standard deviations of an arm's two log lengths by landmark noise, carried through the plane. */
function lengthNoise(
  rays: ArmRays,
  normal: Vector,
  parameters: readonly number[],
): { upperArm: number; forearm: number } {
  const { landmark, least, most } = ARM_PLANE.lengthNoise;
  const { upperArm, forearm } = armOnPlane(rays, normal, parameters[ELBOW_SHORT] ?? 0);
  const raySd = landmark * Math.exp(parameters[LOG_UPPER_ARM] ?? 0) * steepness(rays.elbow, normal);
  const noiseOf = (segment: Vector, from: Vector, to: Vector): number => {
    const length = Math.max(1e-6, lengthOf(segment));
    const along: Vector = [segment[0] / length, segment[1] / length, segment[2] / length];
    const across = Math.hypot(stretch(from, normal, along), stretch(to, normal, along));
    return clamp((raySd * across) / length, least, most);
  };
  return {
    upperArm: noiseOf(upperArm, rays.shoulder, rays.elbow),
    forearm: noiseOf(forearm, rays.elbow, rays.wrist),
  };
}

/** Median of a mean square of two normal values: half of the median of chi-square with two degrees of freedom. */
const MEDIAN_MEAN_SQUARE = Math.log(2);

/** What the lengths of the middle one of the arms miss, in standard deviations, 1 where noise alone is at work; 0 without arms. */
function misfitOf(arms: readonly ArmRays[], normal: Vector, parameters: readonly number[]): number {
  const squares = arms.map((rays) => {
    const noise = lengthNoise(rays, normal, parameters);
    const [upperArm, forearm] = misfit(rays, normal, parameters);
    return ((upperArm / noise.upperArm) ** 2 + (forearm / noise.forearm) ** 2) / 2;
  });
  return Math.sqrt((median(squares) ?? 0) / MEDIAN_MEAN_SQUARE);
}

/** Weights from noise, from how far a length is off, and from how many pictures count as independent. */
function weightsAt(
  arms: readonly ArmRays[],
  parameters: readonly number[],
  independentShare: number,
): LengthWeights[] {
  const normal = planeNormal(planeOf(parameters));
  return arms.map((rays) => {
    const noise = lengthNoise(rays, normal, parameters);
    const [upperArm, forearm] = misfit(rays, normal, parameters);
    const weight = (off: number, sd: number): number =>
      Math.sqrt(independentShare * huberWeight(off / sd, ARM_PLANE.huberLimit)) / sd;
    return { upperArm: weight(upperArm, noise.upperArm), forearm: weight(forearm, noise.forearm) };
  });
}

/** How far the forearm's relative length and the elbow's shortfall are from what is usual, standard deviations. */
function lengthResiduals(parameters: readonly number[]): [number, number] {
  const { forearm, elbowShort } = ARM_PLANE;
  return [
    ((parameters[LOG_RATIO] ?? 0) - forearm.logRatio) / forearm.sd,
    ((parameters[ELBOW_SHORT] ?? 0) - elbowShort.mean) / elbowShort.sd,
  ];
}

/** Residuals of the expectations: yaw and tilt made independent of each other, then the lengths. */
function priorResiduals(parameters: readonly number[], prior: PlanePrior, logUpperArm: number): number[] {
  const yaw = (parameters[YAW] ?? 0) - prior.yawDeg;
  const tilt = (parameters[TILT] ?? 0) - prior.tiltDeg;
  const slope = prior.covariance / prior.yawVariance;
  return [
    yaw / Math.sqrt(prior.yawVariance),
    (tilt - slope * yaw) / Math.sqrt(prior.tiltVariance - slope * prior.covariance),
    ((parameters[LOG_UPPER_ARM] ?? 0) - logUpperArm) / LOG_UPPER_ARM_SD,
    ...lengthResiduals(parameters),
  ];
}

function problemOf(
  arms: readonly ArmRays[],
  weights: readonly LengthWeights[],
  start: readonly number[],
  expected: (parameters: readonly number[]) => readonly number[],
): LeastSquaresProblem<Evaluation> {
  return {
    start,
    derivativeSteps: DERIVATIVE_STEPS,
    rounds: ROUNDS,
    leastGain: LEAST_GAIN,
    bounded: (parameters) =>
      parameters.map((value, i) => {
        if (i === ELBOW_SHORT) return clamp(value, -FURTHEST_SHORT, FURTHEST_SHORT);
        return i === YAW || i === TILT ? clamp(value, -FURTHEST_DEG, FURTHEST_DEG) : value;
      }),
    evaluate: (parameters) => {
      const normal = planeNormal(planeOf(parameters));
      const fromPrior = expected(parameters);
      const residuals = new Float64Array(2 * arms.length + fromPrior.length);
      arms.forEach((rays, i) => {
        const [upperArm, forearm] = misfit(rays, normal, parameters);
        residuals[2 * i] = upperArm * (weights[i]?.upperArm ?? 0);
        residuals[2 * i + 1] = forearm * (weights[i]?.forearm ?? 0);
      });
      residuals.set(fromPrior, 2 * arms.length);
      return { residuals, sumOfSquares: residuals.reduce((sum, r) => sum + r * r, 0) };
    },
  };
}

/**
 * Finds the plane in which an arm bends from how long its two segments look throughout a set: in the true plane each
 * keeps one length. What the body shows of the view, and what is known of arms, stands beside it as expectation, and
 * is all there is without pictures of the arm. Least squares with Huber's weights.
 */
export function fitArmPlane(all: readonly ArmRays[], body: BodyView): ArmPlaneFit {
  const { arms, independent } = chooseArms(all);
  return planeThrough(arms, independent, body);
}

/** The plane that the body alone lets expect, for arms that have not bent enough yet to say more. */
export function expectArmPlane(all: readonly ArmRays[], body: BodyView): ArmPlaneFit {
  return { ...planeThrough(chooseArms(all).arms, 0, body), fittedFrames: 0 };
}

function planeThrough(arms: readonly ArmRays[], independent: number, body: BodyView): ArmPlaneFit {
  const prior = priorOf(body, arms);
  const { forearm, elbowShort } = ARM_PLANE;
  const expectedPlane = { yawDeg: prior.yawDeg, tiltDeg: prior.tiltDeg, elbowShort: elbowShort.mean };
  const expectedNormal = planeNormal(expectedPlane);
  const seen = arms.map((rays) => lengthOf(armOnPlane(rays, expectedNormal, elbowShort.mean).upperArm));
  const logUpperArm = Math.log(Math.max(1e-6, median(seen) ?? 1));
  let parameters: readonly number[] = [
    prior.yawDeg,
    prior.tiltDeg,
    logUpperArm,
    forearm.logRatio,
    elbowShort.mean,
  ];
  const expected = (at: readonly number[]): number[] => priorResiduals(at, prior, logUpperArm);
  const share = arms.length > 0 ? independent / arms.length : 0;
  let covariance: number[][] = [];
  for (let round = 0; round < WEIGHT_ROUNDS; round++) {
    const problem = problemOf(arms, weightsAt(arms, parameters, share), parameters, expected);
    const descent = descend(problem);
    parameters = descent.parameters;
    if (round === WEIGHT_ROUNDS - 1) covariance = covarianceAt(problem, descent);
  }
  const plane = planeOf(parameters);
  const yawVariance = covariance[YAW]?.[YAW] ?? prior.yawVariance;
  // Of what the fit moved the plane's yaw, the body gets the share of doubt that was the body's.
  const bodyShare = prior.bodyYawVariance / prior.yawVariance;
  return {
    plane,
    logUpperArm: parameters[LOG_UPPER_ARM] ?? 0,
    logRatio: parameters[LOG_RATIO] ?? 0,
    covariance,
    yawSdDeg: Math.sqrt(yawVariance),
    bodyYawDeg: prior.yawDeg - prior.armTurnDeg + bodyShare * (plane.yawDeg - prior.yawDeg),
    bodyYawSdDeg: Math.sqrt(
      Math.max(0, prior.bodyYawVariance - bodyShare ** 2 * (prior.yawVariance - yawVariance)),
    ),
    misfit: misfitOf(arms, planeNormal(plane), parameters),
    strangeness: Math.hypot(...lengthResiduals(parameters)),
    fittedFrames: arms.length,
  };
}
