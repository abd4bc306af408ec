import { toRadians } from '../math/angle.ts';
import { clamp } from '../math/statistics.ts';
import type { ArmPlaneFit } from './arm-plane-fit.ts';
import { ARM_PLANE } from './arm-plane-limits.ts';
import {
  armOnPlane,
  flexionInPlaneDeg,
  lengthOf,
  obliquenessDeg,
  planeNormal,
  steepness,
  type ArmRays,
  type Vector,
} from './arm-plane.ts';
import { Z95 } from './intervals.ts';
import type { LandmarkErrors } from './landmark-errors.ts';
import { estimate, notMeasured, type Measured } from './measured.ts';

/** Steps of the numeric derivatives by the fit's parameters, in their order, and by a point's place, upper-arm lengths. */
const PARAMETER_STEPS = [0.05, 0.05, 1e-3, 1e-3, 1e-3];
const STEP_UPPER_ARMS = 1e-3;

/** What of a fit an arm is read by. */
type Read = Pick<ArmPlaneFit, 'plane' | 'logUpperArm' | 'logRatio'>;

/** An arm read in a plane: flexion, degrees, and by how much its two log lengths miss those of the set. */
interface Reading {
  readonly flexionDeg: number;
  readonly upperArm: number;
  readonly forearm: number;
}

function readingOf(rays: ArmRays, { plane, logUpperArm, logRatio }: Read): Reading {
  const { upperArm, forearm } = armOnPlane(rays, planeNormal(plane), plane.elbowShort);
  const miss = (segment: Vector, expected: number): number =>
    Math.log(Math.max(1e-6, lengthOf(segment))) - expected;
  return {
    flexionDeg: flexionInPlaneDeg(rays, plane),
    upperArm: miss(upperArm, logUpperArm),
    forearm: miss(forearm, logUpperArm + logRatio),
  };
}

/** How a reading changes from one to another by a step, for one unit of what was stepped. */
function slope(from: Reading, to: Reading, step: number): Reading {
  return {
    flexionDeg: (to.flexionDeg - from.flexionDeg) / step,
    upperArm: (to.upperArm - from.upperArm) / step,
    forearm: (to.forearm - from.forearm) / step,
  };
}

/** Changes of a reading as the three points move, each along both axes of the picture, by one upper-arm length. */
function byPoints(rays: ArmRays, read: Read, at: Reading): Reading[] {
  const step = STEP_UPPER_ARMS * Math.exp(read.logUpperArm) * steepness(rays.elbow, planeNormal(read.plane));
  return (['shoulder', 'elbow', 'wrist'] as const).flatMap((name) => {
    const [across, up, away] = rays[name];
    const moves: readonly Vector[] = [
      [across + step, up, away],
      [across, up + step, away],
    ];
    return moves.map((moved) => slope(at, readingOf({ ...rays, [name]: moved }, read), STEP_UPPER_ARMS));
  });
}

/** Changes of a reading with each parameter of the fit, in the order of its covariance. */
function byParameters(rays: ArmRays, read: Read, at: Reading): Reading[] {
  const { plane, logUpperArm, logRatio } = read;
  return PARAMETER_STEPS.map((step, which) => {
    const moved = (parameter: number): number => (parameter === which ? step : 0);
    const { yawDeg, tiltDeg, elbowShort } = plane;
    const there: Read = {
      plane: {
        yawDeg: yawDeg + moved(0),
        tiltDeg: tiltDeg + moved(1),
        elbowShort: elbowShort + moved(4),
      },
      logUpperArm: logUpperArm + moved(2),
      logRatio: logRatio + moved(3),
    };
    return slope(at, readingOf(rays, there), step);
  });
}

/** Degrees by which the angle is put right for each unit that a log length misses. */
interface Correction {
  readonly upperArm: number;
  readonly forearm: number;
}

const NO_CORRECTION: Correction = { upperArm: 0, forearm: 0 };

/**
 * Moves the three points as little as possible (least squares) towards places at which both segments have their length:
 * what the angle changes by that, for each unit of miss. With J the slopes by the points: J_angle J_lengths' (J_lengths
 * J_lengths' + slack^2)^-1, a step of Gauss and Newton for uncertain observations tied by conditions.
 */
function lengthKeeping(slopes: readonly Reading[]): Correction {
  const sum = (product: (by: Reading) => number): number =>
    slopes.reduce((total, by) => total + product(by), 0);
  const slack = ARM_PLANE.lengthKeeping.slack ** 2;
  const [a, d] = [sum((by) => by.upperArm ** 2) + slack, sum((by) => by.forearm ** 2) + slack];
  const b = sum((by) => by.upperArm * by.forearm);
  const [p, q] = [sum((by) => by.flexionDeg * by.upperArm), sum((by) => by.flexionDeg * by.forearm)];
  const determinant = a * d - b * b;
  return { upperArm: (p * d - q * b) / determinant, forearm: (q * a - p * b) / determinant };
}

/** The reading with no more missing of its lengths than scatter can account for. */
function withinScatter({ flexionDeg, upperArm, forearm }: Reading): Reading {
  const { mostMiss } = ARM_PLANE.lengthKeeping;
  const within = (miss: number): number => clamp(miss, -mostMiss, mostMiss);
  return { flexionDeg, upperArm: within(upperArm), forearm: within(forearm) };
}

/** Flexion of a reading, or its slope, with the correction. */
function corrected({ flexionDeg, upperArm, forearm }: Reading, by: Correction): number {
  return flexionDeg - by.upperArm * upperArm - by.forearm * forearm;
}

/**
 * Elbow flexion, degrees, of one picture in the plane of its set, with its 95 % interval. The points are moved a little so
 * that both segments come nearer to the lengths that they have through the set. The interval is the fit's doubt, the
 * landmarks' scatter carried through the plane, what the picture's own lengths miss, and what is left over. Not measured where the plane is seen too
 * obliquely, and where the arm's lengths do not keep their size or are no arm's: then the network has lost it.
 * @param jitterUpperArms - scatter of points from picture to picture, upper-arm lengths
 */
export function flexionByFit(
  rays: ArmRays,
  fit: ArmPlaneFit,
  jitterUpperArms: number,
  errors: LandmarkErrors,
): Measured {
  const { plane, covariance } = fit;
  if (obliquenessDeg(rays, plane) > ARM_PLANE.obliqueDeg) return notMeasured('too-oblique');
  const isFitted = fit.fittedFrames > 0;
  const isStrange = fit.misfit > errors.mostMisfit || fit.strangeness > ARM_PLANE.mostStrangeness;
  if (isFitted && isStrange) return notMeasured('too-uncertain');
  const seen = readingOf(rays, fit);
  const at = withinScatter(seen);
  const slopes = byPoints(rays, fit, seen);
  const correction = isFitted ? lengthKeeping(slopes) : NO_CORRECTION;
  const pointVariance = errors.pointSd ** 2 + jitterUpperArms ** 2;
  const byScatter = slopes.reduce((sum, by) => sum + corrected(by, correction) ** 2, 0) * pointVariance;
  const byFit = byParameters(rays, fit, seen).map((by) => corrected(by, correction));
  const fitVariance = byFit.reduce(
    (sum, a, i) => sum + byFit.reduce((row, b, j) => row + a * b * (covariance[i]?.[j] ?? 0), 0),
    0,
  );
  const doubt = Math.sqrt(Math.max(1, fit.misfit / errors.usualMisfit)) * Math.max(1, fit.strangeness);
  const leftOver = (errors.leftOverDeg * doubt) / Math.cos(toRadians(plane.yawDeg)) ** errors.leftOverPower;
  // An arm that has left the plane is foreshortened by more than scatter: what that would turn the angle is doubt.
  const unaccountedDeg = corrected(seen, correction) - corrected(at, correction);
  const valueDeg = clamp(corrected(at, correction) - errors.foldSideDeg, 0, 180);
  const sdDeg = Math.hypot(Math.sqrt(fitVariance + byScatter), leftOver, unaccountedDeg);
  return estimate(valueDeg, Z95 * sdDeg);
}
