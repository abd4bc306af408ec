import { median, quantile } from '../math/statistics.ts';
import { FRESH_GATE, stepGate, type GatedPose } from '../pose/gate.ts';
import type { Side } from '../pose/landmark.ts';
import type { PoseFrame } from '../pose/pose-frame.ts';
import { distance } from '../pose/sided-pose.ts';
import { cameraPitchDeg } from '../pose/viewpoint.ts';
import { measuredRateHz } from '../signal/resample.ts';
import { recordCutoffHz } from '../signal/zero-lag-series.ts';
import { ARM_PLANE_TILT_DEG } from './anthropometry.ts';
import { fitArmPlane } from './arm-plane-fit.ts';
import { armRays } from './arm-plane.ts';
import { buildFrame, type FrameContext } from './build-frame.ts';
import { USUAL_LANDMARKS, type LandmarkSource } from './landmark-errors.ts';
import type { KinematicSeries, PlanePoint } from './kinematic-frame.ts';
import { cameraOfPicture, toPlane, type PlanePoints, type PlaneProjection } from './plane-projection.ts';
import { smoothRecord } from './record-smoothing.ts';
import { scaleFrom, segmentLengths, typicalLengths } from './scale.ts';
import { NO_PLACES, trackedPlaces, type TrackedPlaces } from './tracked-points.ts';
import {
  cameraYawDeg,
  correctionByPlane,
  localYaws,
  reasonInView,
  isTurned,
  setYawDeg,
  stepOblique,
  viewAt,
  viewByPlane,
  type TimedYaw,
} from './view.ts';

/** Whose arm, and how tall the person is, centimetres; null when not given. */
export interface MeasureSettings {
  readonly side: Side;
  readonly statureCm: number | null;
  /** What gave the landmarks; the usual network without it. */
  readonly landmarks?: LandmarkSource;
  /** How the camera stands, degrees, where something surer than the picture says it. */
  readonly camera?: { readonly yawDeg: number; readonly pitchDeg: number };
}

/** Rate assumed of a set too short to tell, hertz. */
const FALLBACK_RATE_HZ = 30;

/** Of the smoothed upper-arm lengths, the quantile taken as the true one: a little above the middle, because an arm that leaves the plane only looks shorter. */
const UPPER_ARM_QUANTILE = 0.6;

/** Runs the gate over all pictures in order. */
function gateAll(frames: readonly PoseFrame[], side: Side): GatedPose[] {
  let state = FRESH_GATE;
  return frames.map((frame) => {
    const next = stepGate(state, frame, side);
    state = next.state;
    return next.gated;
  });
}

/** Root mean square of what smoothing took away from the arm's points, upper-arm lengths. */
function jitterOf(
  raw: readonly TrackedPlaces[],
  smooth: readonly TrackedPlaces[],
  upperArmPx: number,
): number {
  let sum = 0;
  let count = 0;
  raw.forEach((places, i) => {
    for (const point of ['shoulder', 'elbow', 'wrist'] as const) {
      const [a, b] = [places[point], smooth[i]?.[point]];
      if (!a || !b) continue;
      sum += (a.forward - b.forward) ** 2 + (a.up - b.up) ** 2;
      count += 2;
    }
  });
  return count > 0 ? Math.sqrt(sum / count) / upperArmPx : 0;
}

/** A picture's own yaw, when its landmarks are believed but perhaps not its arm. */
function timedYaw(frame: PoseFrame, gate: GatedPose | undefined): TimedYaw {
  const { timeSeconds } = frame;
  const believed = gate?.reason === null || gate?.armOnly || gate?.reason === 'wrong-side';
  return { timeSeconds, yawDeg: gate?.pose && believed ? cameraYawDeg(gate.pose, frame) : null };
}

/** The camera's pitch, degrees: the median over the pictures in which the trunk is measured; null when none shows it. */
function setPitchDeg(
  gated: readonly GatedPose[],
  measured: readonly TrackedPlaces[],
  yawDeg: number | null,
): number | null {
  return median(
    gated.flatMap(({ pose }, i) =>
      pose && measured[i]?.shoulder ? (cameraPitchDeg(pose, yawDeg ?? 0) ?? []) : [],
    ),
  );
}

/** The first picture in which the middle of the shoulders was measured. */
function travelOrigin(points: readonly PlanePoints[]): PlanePoint | null {
  return points.find(({ midShoulder }) => midShoulder !== null)?.midShoulder ?? null;
}

/** Rounds in which the upper arm's length in pixels and the perspective that depends on it are settled. */
const UNIT_ROUNDS = 3;

/** The projection with the upper-arm length, pixels, that makes the set's upper arm one unit long. */
function settleUnit(places: readonly TrackedPlaces[], start: PlaneProjection): PlaneProjection {
  let projection = start;
  for (let round = 0; round < UNIT_ROUNDS; round++) {
    const lengths = places.flatMap((frame) => segmentLengths(toPlane(frame, projection)).upperArm ?? []);
    const unit = quantile(lengths, UPPER_ARM_QUANTILE);
    if (unit === null || !(unit > 0)) break;
    projection = { ...projection, upperArmPx: projection.upperArmPx * unit };
  }
  return projection;
}

/** Upper-arm length to start from, pixels: as it looks in the picture. */
function apparentUpperArmPx(places: readonly TrackedPlaces[]): number {
  const seen = places.flatMap(({ shoulder, elbow }) =>
    shoulder && elbow ? [distance(shoulder, elbow)] : [],
  );
  return Math.max(1, median(seen) ?? 1);
}

/**
 * Measures a whole recorded set: one output frame for each input frame, at the same times. Landmarks are gated,
 * smoothed without lag, turned into the arm's plane by the view of the whole set, and measured. The same frames give
 * the same numbers. Times must rise.
 */
export function measureSet(frames: readonly PoseFrame[], settings: MeasureSettings): KinematicSeries {
  const timesSeconds = frames.map((frame) => frame.timeSeconds);
  const gated = gateAll(frames, settings.side);
  const local = localYaws(frames.map((frame, i) => timedYaw(frame, gated[i])));
  const plainView = viewAt(setYawDeg(local));
  const raw = frames.map((frame, i) => {
    const gate = gated[i];
    return gate ? trackedPlaces(gate, frame) : NO_PLACES;
  });
  const rateHz = measuredRateHz(timesSeconds) ?? FALLBACK_RATE_HZ;
  const seen = smoothRecord(timesSeconds, raw, rateHz);
  const camera = cameraOf(frames);
  const armPlane = fitArmPlane(
    seen.flatMap((places, i) =>
      isTurned(local[i] ?? null, plainView.yawDeg) ? [] : (armRays(places, camera) ?? []),
    ),
    settings.camera === undefined
      ? { yawDeg: plainView.yawDeg, pitchDeg: setPitchDeg(gated, raw, plainView.yawDeg) }
      : { ...settings.camera, isGiven: true },
  );
  const view = viewByPlane(plainView, armPlane);
  const correctionDeg = correctionByPlane(plainView, view);
  let isOblique = false;
  const reasons = gated.map((gate, i) => {
    const yawDeg = local[i] ?? null;
    const correctedDeg = yawDeg === null ? null : yawDeg + correctionDeg;
    isOblique = stepOblique(isOblique, correctedDeg);
    return reasonInView(gate.reason, isOblique, correctedDeg);
  });
  const smooth = seen.map((places, i) => (reasons[i] === gated[i]?.reason ? places : NO_PLACES));
  const projection = settleUnit(smooth, {
    yawDeg: view.usedYawDeg,
    armTiltDeg: ARM_PLANE_TILT_DEG,
    elbowShort: armPlane.plane.elbowShort,
    upperArmPx: apparentUpperArmPx(smooth),
    ...camera,
  });
  const points = smooth.map((places) => toPlane(places, projection));
  const scale =
    settings.statureCm === null
      ? null
      : scaleFrom(typicalLengths(points.map(segmentLengths)), settings.statureCm);
  const context: FrameContext = {
    view,
    landmarks: settings.landmarks ?? USUAL_LANDMARKS,
    armPlane,
    projection,
    upperArmCm: scale?.cmPerUnit ?? null,
    scaleRelativeSd: scale?.relativeSd ?? 0,
    jitterUpperArms: jitterOf(raw, smooth, projection.upperArmPx),
    travelOrigin: travelOrigin(points),
  };
  return {
    frames: frames.map((frame, i) =>
      buildFrame(frame.timeSeconds, smooth[i] ?? NO_PLACES, reasons[i] ?? null, context),
    ),
    view: {
      cameraYawDeg: armPlane.fittedFrames > 0 ? armPlane.plane.yawDeg : view.yawDeg,
      method: view.method,
      upperArmCm: context.upperArmCm,
      scaleSource: scale?.source ?? null,
      lowPassHz: recordCutoffHz(rateHz),
      rateHz,
    },
  };
}

/** The camera of a set: its pictures' middle and an assumed focal length. */
function cameraOf(frames: readonly PoseFrame[]): Pick<PlaneProjection, 'centre' | 'focalPx'> {
  const widthPx = median(frames.map((frame) => frame.widthPx)) ?? 1;
  const heightPx = median(frames.map((frame) => frame.heightPx)) ?? 1;
  return cameraOfPicture(widthPx, heightPx);
}
