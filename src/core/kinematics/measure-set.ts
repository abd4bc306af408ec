import { toRadians } from '../math/angle.ts';
import { median, quantile } from '../math/statistics.ts';
import { FRESH_GATE, stepGate, type GatedPose } from '../pose/gate.ts';
import type { Side } from '../pose/landmark.ts';
import type { PoseFrame } from '../pose/pose-frame.ts';
import { bodyYawDeg } from '../pose/viewpoint.ts';
import { measuredRateHz } from '../signal/resample.ts';
import { recordCutoffHz } from '../signal/zero-lag-series.ts';
import { buildFrame, toPlane, type FrameContext } from './build-frame.ts';
import type { KinematicSeries, PlanePoint } from './kinematic-frame.ts';
import { smoothRecord } from './record-smoothing.ts';
import { scaleFrom, segmentLengths, typicalLengths, type Scale } from './scale.ts';
import { NO_PLACES, trackedPlaces, type TrackedPlaces } from './tracked-points.ts';
import { localYaws, OBLIQUE_LIMIT_DEG, setYawDeg, viewAt, type View } from './view.ts';

/** Whose arm, and how tall the person is, centimetres; null when not given. */
export interface MeasureSettings {
  readonly side: Side;
  readonly statureCm: number | null;
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

/** The first picture in which the middle of the shoulders was measured. */
function travelOrigin(
  places: readonly TrackedPlaces[],
  isOblique: readonly boolean[],
  view: View,
  upperArmPx: number,
): PlanePoint | null {
  for (const [i, frame] of places.entries()) {
    if (isOblique[i]) continue;
    const { midShoulder } = toPlane(frame, view, upperArmPx);
    if (midShoulder !== null) return midShoulder;
  }
  return null;
}

/**
 * Measures a whole recorded set: one output frame for each input frame, at the same times. Landmarks are gated,
 * smoothed without lag, turned into the arm's plane by the view of the whole set, and measured. The same frames give
 * the same numbers. Times must rise.
 */
export function measureSet(frames: readonly PoseFrame[], settings: MeasureSettings): KinematicSeries {
  const timesSeconds = frames.map((frame) => frame.timeSeconds);
  const gated = gateAll(frames, settings.side);
  const local = localYaws(
    gated.map((gate, i) => ({
      timeSeconds: timesSeconds[i] ?? 0,
      yawDeg: gate.pose && (gate.reason === null || gate.armOnly) ? bodyYawDeg(gate.pose) : null,
    })),
  );
  const view = viewAt(setYawDeg(local));
  const isOblique = local.map((yaw) => view.tooOblique || Math.abs(yaw ?? 0) > OBLIQUE_LIMIT_DEG);
  const raw = frames.map((frame, i) => {
    const gate = gated[i];
    return gate && !isOblique[i] ? trackedPlaces(gate, frame) : NO_PLACES;
  });
  const rateHz = measuredRateHz(timesSeconds) ?? FALLBACK_RATE_HZ;
  const smooth = smoothRecord(timesSeconds, raw, rateHz);

  const stretch = 1 / Math.cos(toRadians(view.stretchYawDeg));
  const lengths = smooth.map((places) => segmentLengths(places, stretch));
  const upperArmPx = quantile(
    lengths.flatMap(({ upperArm }) => (upperArm === null ? [] : [upperArm])),
    UPPER_ARM_QUANTILE,
  );
  const heightPx = median(frames.map((frame) => frame.heightPx)) ?? 1;
  const scale: Scale | null =
    settings.statureCm === null ? null : scaleFrom(typicalLengths(lengths), settings.statureCm, heightPx);
  const unitPx = upperArmPx !== null && upperArmPx > 1 ? upperArmPx : 1;
  const context: FrameContext = {
    view,
    upperArmPx: unitPx,
    upperArmCm: scale && scale.cmPerPx * unitPx,
    scaleRelativeSd: scale?.relativeSd ?? 0,
    jitterUpperArms: jitterOf(raw, smooth, unitPx),
    travelOrigin: travelOrigin(smooth, isOblique, view, unitPx),
  };
  const oblique: FrameContext = { ...context, view: { ...view, tooOblique: true } };
  return {
    frames: frames.map((frame, i) =>
      buildFrame(
        frame.timeSeconds,
        smooth[i] ?? NO_PLACES,
        gated[i]?.reason ?? null,
        isOblique[i] ? oblique : context,
      ),
    ),
    view: {
      cameraYawDeg: view.yawDeg,
      method: view.method,
      upperArmCm: context.upperArmCm,
      scaleSource: scale?.source ?? null,
      lowPassHz: recordCutoffHz(rateHz),
      rateHz,
    },
  };
}
