import { median } from '../math/statistics.ts';
import { GATE_LIMITS } from '../pose/gate-limits.ts';
import { FRESH_GATE, stepGate, type GatedPose, type GateState } from '../pose/gate.ts';
import type { PoseFrame } from '../pose/pose-frame.ts';
import { trunkOf } from '../pose/sided-pose.ts';
import { cameraPitchDeg } from '../pose/viewpoint.ts';
import { ARM_PLANE_TILT_DEG } from './anthropometry.ts';
import { ARM_PLANE } from './arm-plane-limits.ts';
import { armRays } from './arm-plane.ts';
import { buildFrame, type FrameContext } from './build-frame.ts';
import { USUAL_LANDMARKS } from './landmark-errors.ts';
import type { KinematicFrame, ViewOfSet } from './kinematic-frame.ts';
import { LiveArmPlane } from './live-arm-plane.ts';
import { LiveSmoothing } from './live-smoothing.ts';
import type { MeasureSettings } from './measure-set.ts';
import { cameraOfPicture, toPlane, type PlaneProjection } from './plane-projection.ts';
import { scaleFrom, segmentLengths, typicalLengths, type Scale, type SegmentLengths } from './scale.ts';
import { NO_PLACES, trackedPlaces, type TrackedPlaces } from './tracked-points.ts';
import {
  cameraYawDeg,
  correctionByPlane,
  reasonInView,
  stepOblique,
  viewAt,
  viewByPlane,
  type View,
} from './view.ts';

/** What is known of the view and of lengths is the median of the last this many seconds, sampled a few times each. */
const MEMORY_SECONDS = 12;
const SAMPLE_SECONDS = 0.2;

/** Window of a picture's own view, seconds: turning away is noticed within about half of it. */
const LOCAL_SECONDS = 1;

/** What one picture told of the view and of lengths, in pixels at the distance of the body's middle. */
interface Sample {
  readonly timeSeconds: number;
  readonly yawDeg: number | null;
  readonly pitchDeg: number | null;
  readonly lengthsPx: SegmentLengths;
}

/** Jitter assumed live, where it is not known yet, upper-arm lengths. */
const LIVE_JITTER_UPPER_ARMS = 0.02;

/** What one live picture gave. */
export interface LiveStep {
  readonly frame: KinematicFrame;
  /** The landmarks as measured from, labels put right: what is drawn on the picture. */
  readonly gated: GatedPose;
  /** True when the estimator should search the person afresh. */
  readonly resetTracker: boolean;
  readonly view: ViewOfSet;
}

/** Measures pictures as they come, from the past alone, with the geometry of the recorded set. */
export class LiveMeasurer {
  readonly #settings: MeasureSettings;
  readonly #smoothing = new LiveSmoothing();
  readonly #armPlane = new LiveArmPlane();
  #gate: GateState = FRESH_GATE;
  #samples: Sample[] = [];
  #recentYaws: { timeSeconds: number; yawDeg: number }[] = [];
  #isOblique = false;
  #plainView: View = viewAt(null);
  #pitchDeg: number | null = null;
  #elbowShort: number = ARM_PLANE.elbowShort.mean;
  /** The plain view, or that of the arm's plane once it is fitted. */
  #view: View = this.#plainView;
  #upperArmPx: number | null = null;
  #scale: Scale | null = null;
  #firstPlaces: TrackedPlaces | null = null;

  constructor(settings: MeasureSettings) {
    this.#settings = settings;
  }

  /**
   * Measures the next picture. Times must rise. landmarks: what gave them in this picture, where it may change on the way;
   * else what the settings say.
   */
  step(frame: PoseFrame, landmarks = this.#settings.landmarks ?? USUAL_LANDMARKS): LiveStep {
    const { state, gated } = stepGate(this.#gate, frame, this.#settings.side);
    this.#gate = state;
    if (gated.restart) this.#smoothing.reset();
    const believed = gated.reason === null || gated.armOnly || gated.reason === 'wrong-side';
    const yawDeg = gated.pose && believed ? cameraYawDeg(gated.pose, frame) : null;
    const localYawDeg = this.#lookAt(frame.timeSeconds, yawDeg);
    const correctedYawDeg =
      localYawDeg === null ? null : localYawDeg + correctionByPlane(this.#plainView, this.#view);
    this.#isOblique = stepOblique(this.#isOblique, correctedYawDeg);
    const reason = reasonInView(gated.reason, this.#isOblique, correctedYawDeg);
    const raw = reason === gated.reason ? trackedPlaces(gated, frame) : NO_PLACES;
    const trunkPx = state.lengths.trunkPx ?? (gated.pose ? Math.max(1, trunkOf(gated.pose).length) : 1);
    const places = this.#smoothing.step(raw, frame.timeSeconds, trunkPx);
    const pitchDeg = gated.pose && believed ? cameraPitchDeg(gated.pose, localYawDeg ?? 0) : null;
    const before = this.#projection(frame, trunkPx);
    this.#learn({ timeSeconds: frame.timeSeconds, yawDeg, pitchDeg }, places, before);
    const armPlane = this.#armPlane.step(frame.timeSeconds, armRays(places, before), {
      yawDeg: this.#plainView.yawDeg,
      pitchDeg: this.#pitchDeg,
      localYawDeg,
    });
    this.#view = viewByPlane(this.#plainView, armPlane);
    this.#elbowShort = armPlane.plane.elbowShort;
    const view = this.#view;
    const projection = this.#projection(frame, trunkPx);
    if (places.shoulder !== null) this.#firstPlaces ??= places;
    const context: FrameContext = {
      view,
      landmarks,
      armPlane,
      projection,
      upperArmCm: this.#scale && this.#scale.cmPerUnit * projection.upperArmPx,
      scaleRelativeSd: this.#scale?.relativeSd ?? 0,
      jitterUpperArms: LIVE_JITTER_UPPER_ARMS,
      // Turned anew with what is known now: a better view moves the origin and the present place alike.
      travelOrigin: this.#firstPlaces && toPlane(this.#firstPlaces, projection).midShoulder,
    };
    return {
      frame: buildFrame(frame.timeSeconds, places, reason, context),
      gated,
      resetTracker: gated.resetTracker,
      view: {
        cameraYawDeg: armPlane.fittedFrames > 0 ? armPlane.plane.yawDeg : view.yawDeg,
        method: view.method,
        upperArmCm: context.upperArmCm,
        scaleSource: this.#scale?.source ?? null,
        lowPassHz: null,
        rateHz: null,
      },
    };
  }

  /** Forgets the person and the set: to be called at a source's start and before each set. */
  reset(): void {
    this.#smoothing.reset();
    this.#armPlane.reset();
    this.#gate = FRESH_GATE;
    this.#samples = [];
    this.#recentYaws = [];
    this.#isOblique = false;
    this.#plainView = viewAt(null);
    this.#pitchDeg = null;
    this.#elbowShort = ARM_PLANE.elbowShort.mean;
    this.#view = this.#plainView;
    this.#upperArmPx = null;
    this.#scale = null;
    this.#firstPlaces = null;
  }

  #projection(frame: PoseFrame, trunkPx: number): PlaneProjection {
    return {
      yawDeg: this.#view.usedYawDeg,
      armTiltDeg: ARM_PLANE_TILT_DEG,
      elbowShort: this.#elbowShort,
      upperArmPx: this.#upperArmPx ?? GATE_LIMITS.upperArmOverTrunk * trunkPx,
      ...cameraOfPicture(frame.widthPx, frame.heightPx),
    };
  }

  /** Takes a picture's own view into the last second's, and gives its median, degrees. */
  #lookAt(now: number, yawDeg: number | null): number | null {
    if (yawDeg !== null) this.#recentYaws.push({ timeSeconds: now, yawDeg });
    this.#recentYaws = this.#recentYaws.filter(({ timeSeconds }) => timeSeconds > now - LOCAL_SECONDS);
    return median(this.#recentYaws.map((recent) => recent.yawDeg));
  }

  /** Takes a picture's view and lengths into what is known of the set, a few times a second. */
  #learn(look: Omit<Sample, 'lengthsPx'>, places: TrackedPlaces, projection: PlaneProjection): void {
    const now = look.timeSeconds;
    const last = this.#samples[this.#samples.length - 1];
    if (places.shoulder === null || (last && now - last.timeSeconds < SAMPLE_SECONDS)) return;
    const lengths = segmentLengths(toPlane(places, projection));
    this.#samples.push({ ...look, lengthsPx: inPixels(lengths, projection.upperArmPx) });
    this.#samples = this.#samples.filter(({ timeSeconds }) => timeSeconds > now - MEMORY_SECONDS);
    this.#plainView = viewAt(median(this.#samples.flatMap((sample) => sample.yawDeg ?? [])));
    this.#pitchDeg = median(this.#samples.flatMap((sample) => sample.pitchDeg ?? []));
    const typical = typicalLengths(this.#samples.map((sample) => sample.lengthsPx));
    this.#upperArmPx = typical.upperArm?.length ?? this.#upperArmPx;
    const { statureCm } = this.#settings;
    this.#scale = statureCm === null ? null : scaleFrom(typical, statureCm);
  }
}

function inPixels(lengths: SegmentLengths, upperArmPx: number): SegmentLengths {
  const px = (length: number | null): number | null => length && length * upperArmPx;
  return {
    trunk: px(lengths.trunk),
    thigh: px(lengths.thigh),
    shank: px(lengths.shank),
    upperArm: px(lengths.upperArm),
    forearm: px(lengths.forearm),
  };
}
