import {
  armOnPlane,
  armRays,
  lengthOf,
  planeNormal,
  type ArmPlane,
  type ArmRays,
} from '../../src/core/kinematics/arm-plane.ts';
import { fitArmPlane } from '../../src/core/kinematics/arm-plane-fit.ts';
import { ARM_PLANE } from '../../src/core/kinematics/arm-plane-limits.ts';
import { cameraOfPicture } from '../../src/core/kinematics/plane-projection.ts';
import { trackedPlaces } from '../../src/core/kinematics/tracked-points.ts';
import { cameraYawDeg } from '../../src/core/kinematics/view.ts';
import { descend, huberWeight, type Evaluation } from '../../src/core/math/levenberg-marquardt.ts';
import { clamp, median } from '../../src/core/math/statistics.ts';
import type { GatedPose } from '../../src/core/pose/gate.ts';
import type { PoseFrame } from '../../src/core/pose/pose-frame.ts';

/** How constant an arm's two lengths are in the plane that suits them best, for one place of the elbow. */
interface Constancy {
  /** How far short of the joint the network's elbow is taken to lie, upper-arm lengths. */
  readonly elbowShort: number;
  /** Robust standard deviations of the lengths over the clip, shares of the length. */
  readonly upperArm: number;
  readonly forearm: number;
  /** Forearm over upper arm. */
  readonly ratio: number;
}

/** Fewer arms say nothing of a plane; and without bending every plane suits. */
const LEAST_ARMS = 15;
const SD_OVER_MEDIAN = 1.4826;
/** The plane stays about what the chain found: standard deviation of yaw and tilt, degrees. */
const PLANE_SD_DEG = 15;
/** Scatter of a log length that counts fully; Huber's limit then as in the chain. */
const LENGTH_SD = 0.08;
/** Places of the elbow that are tried, upper-arm lengths. */
const TRIED = Array.from({ length: 16 }, (_, i) => i * 0.02);

/** Arms that are believed, as lines of sight from the camera. */
export function believedArms(frames: readonly PoseFrame[], gated: readonly GatedPose[]): ArmRays[] {
  return frames.flatMap((frame, i) => {
    const gate = gated[i];
    if (gate === undefined) return [];
    return armRays(trackedPlaces(gate, frame), cameraOfPicture(frame.widthPx, frame.heightPx)) ?? [];
  });
}

/** Without correction, with the usual one, and with the one that keeps this arm's lengths best; null for too few arms. */
export function constancyOf(
  arms: readonly ArmRays[],
  frames: readonly PoseFrame[],
  gated: readonly GatedPose[],
): { readonly none: Constancy; readonly usual: Constancy; readonly best: Constancy } | null {
  if (arms.length < LEAST_ARMS) return null;
  const yawDeg = median(
    frames.flatMap((frame, i) => {
      const pose = gated[i]?.pose;
      return pose ? (cameraYawDeg(pose, frame) ?? []) : [];
    }),
  );
  const { plane } = fitArmPlane(arms, { yawDeg, pitchDeg: null });
  const at = (elbowShort: number): Constancy => constancyAt(arms, plane, elbowShort);
  const tried = TRIED.map(at);
  return {
    none: at(0),
    usual: at(ARM_PLANE.elbowShort.mean),
    best: tried.reduce((best, own) => (worst(own) < worst(best) ? own : best)),
  };
}

/** Both lengths count alike. */
const worst = ({ upperArm, forearm }: Constancy): number => Math.hypot(upperArm, forearm);

/** Log lengths of upper arm and forearm in a plane. */
function logLengths(rays: ArmRays, plane: ArmPlane): [number, number] {
  const { upperArm, forearm } = armOnPlane(rays, planeNormal(plane), plane.elbowShort);
  const log = (length: number): number => Math.log(Math.max(1e-6, length));
  return [log(lengthOf(upperArm)), log(lengthOf(forearm))];
}

/** Fits yaw, tilt and both lengths with the elbow held at one place, so that places can be compared. */
function constancyAt(arms: readonly ArmRays[], about: ArmPlane, elbowShort: number): Constancy {
  const planeAt = ([yawDeg = 0, tiltDeg = 0]: readonly number[]): ArmPlane => ({
    ...about,
    yawDeg,
    tiltDeg,
    elbowShort,
  });
  const lengths = (parameters: readonly number[]) =>
    arms.map((rays) => logLengths(rays, planeAt(parameters)));
  const start = [about.yawDeg, about.tiltDeg];
  const evaluate = (parameters: readonly number[]): Evaluation => {
    const all = lengths(parameters);
    const middles = [0, 1].map((which) => median(all.map((own) => own[which] ?? 0)) ?? 0);
    const offs = all.flatMap((own) => own.map((log, which) => (log - (middles[which] ?? 0)) / LENGTH_SD));
    const residuals = Float64Array.from([
      ...offs.map((off) => off * Math.sqrt(huberWeight(off, ARM_PLANE.huberLimit))),
      ...start.map((deg, i) => ((parameters[i] ?? 0) - deg) / PLANE_SD_DEG),
    ]);
    return { residuals, sumOfSquares: residuals.reduce((sum, r) => sum + r * r, 0) };
  };
  const { parameters } = descend({
    evaluate,
    start,
    derivativeSteps: [0.1, 0.1],
    largestStep: 5,
    rounds: 20,
    leastGain: 1e-5,
    bounded: (at) => at.map((deg) => clamp(deg, -70, 70)),
  });
  const all = lengths(parameters);
  const of = (which: 0 | 1): number[] => all.map((own) => own[which]);
  const middle = (which: 0 | 1): number => median(of(which)) ?? 0;
  const sd = (which: 0 | 1): number =>
    SD_OVER_MEDIAN * (median(of(which).map((log) => Math.abs(log - middle(which)))) ?? NaN);
  return { elbowShort, upperArm: sd(0), forearm: sd(1), ratio: Math.exp(middle(1) - middle(0)) };
}
