import { toRadians } from '../math/angle.ts';
import { median } from '../math/statistics.ts';
import { FRESH_GATE, stepGate, type GatedPose, type GateState } from '../pose/gate.ts';
import { trunkOf } from '../pose/sided-pose.ts';
import type { PoseFrame } from '../pose/pose-frame.ts';
import { bodyYawDeg } from '../pose/viewpoint.ts';
import { buildFrame, toPlane, type FrameContext } from './build-frame.ts';
import type { KinematicFrame, PlanePoint, ViewOfSet } from './kinematic-frame.ts';
import { LiveSmoothing } from './live-smoothing.ts';
import type { MeasureSettings } from './measure-set.ts';
import { scaleFrom, segmentLengths, typicalLengths, type Scale, type SegmentLengths } from './scale.ts';
import { trackedPlaces } from './tracked-points.ts';
import { OBLIQUE_LIMIT_DEG, viewAt, type View } from './view.ts';

/** What is known of the view and of lengths is the median of the last this many seconds, sampled a few times each. */
const MEMORY_SECONDS = 12;
const SAMPLE_SECONDS = 0.2;

/** Window of a picture's own view, seconds: turning away is noticed within about half of it. */
const LOCAL_SECONDS = 1;

/** After a jump the view and lengths are learnt anew. */
interface Sample {
  readonly timeSeconds: number;
  readonly yawDeg: number | null;
  readonly lengths: SegmentLengths;
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
  #gate: GateState = FRESH_GATE;
  #samples: Sample[] = [];
  #recentYaws: { timeSeconds: number; yawDeg: number }[] = [];
  #view: View = viewAt(null);
  #unitPx = 0;
  #scale: Scale | null = null;
  #travelOriginPx: { forward: number; up: number } | null = null;

  constructor(settings: MeasureSettings) {
    this.#settings = settings;
  }

  /** Measures the next picture. Times must rise. */
  step(frame: PoseFrame): LiveStep {
    const { state, gated } = stepGate(this.#gate, frame, this.#settings.side);
    this.#gate = state;
    if (gated.restart) this.#smoothing.reset();
    const raw = trackedPlaces(gated, frame);
    const trunkPx = state.trunkPx ?? (gated.pose ? Math.max(1, trunkOf(gated.pose).length) : 1);
    const places = this.#smoothing.step(raw, frame.timeSeconds, trunkPx);
    if (gated.pose && (gated.reason === null || gated.armOnly)) {
      this.#learn(frame, bodyYawDeg(gated.pose), segmentLengths(places, this.#stretch()));
    }
    const local = median(this.#recentYaws.map(({ yawDeg }) => yawDeg));
    const tooOblique = this.#view.tooOblique || Math.abs(local ?? 0) > OBLIQUE_LIMIT_DEG;
    const view = { ...this.#view, tooOblique };
    const unitPx = this.#unitPx || 0.646 * trunkPx;
    const origin = this.#travelOrigin(
      places.shoulder && toPlane(places, { ...view, stretchYawDeg: 0 }, 1).midShoulder,
      tooOblique,
    );
    const context: FrameContext = {
      view,
      upperArmPx: unitPx,
      upperArmCm: this.#scale && this.#scale.cmPerPx * unitPx,
      scaleRelativeSd: this.#scale?.relativeSd ?? 0,
      jitterUpperArms: LIVE_JITTER_UPPER_ARMS,
      travelOrigin: origin && {
        forward: (origin.forward * this.#stretch()) / unitPx,
        up: origin.up / unitPx,
      },
    };
    return {
      frame: buildFrame(frame.timeSeconds, places, gated.reason, context),
      gated,
      resetTracker: gated.resetTracker,
      view: {
        cameraYawDeg: view.yawDeg,
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
    this.#gate = FRESH_GATE;
    this.#samples = [];
    this.#recentYaws = [];
    this.#view = viewAt(null);
    this.#unitPx = 0;
    this.#scale = null;
    this.#travelOriginPx = null;
  }

  #stretch(): number {
    return 1 / Math.cos(toRadians(this.#view.stretchYawDeg));
  }

  #travelOrigin(midShoulderPx: PlanePoint | null, tooOblique: boolean): PlanePoint | null {
    if (this.#travelOriginPx === null && !tooOblique) this.#travelOriginPx = midShoulderPx;
    return this.#travelOriginPx;
  }

  /** Takes a picture's view and lengths into what is known of the set. */
  #learn(frame: PoseFrame, yawDeg: number | null, lengths: SegmentLengths): void {
    const now = frame.timeSeconds;
    if (yawDeg !== null) this.#recentYaws.push({ timeSeconds: now, yawDeg });
    this.#recentYaws = this.#recentYaws.filter(({ timeSeconds }) => timeSeconds > now - LOCAL_SECONDS);
    const lastSample = this.#samples[this.#samples.length - 1];
    if (lastSample && now - lastSample.timeSeconds < SAMPLE_SECONDS) return;
    this.#samples.push({ timeSeconds: now, yawDeg, lengths });
    this.#samples = this.#samples.filter(({ timeSeconds }) => timeSeconds > now - MEMORY_SECONDS);
    this.#view = viewAt(median(this.#samples.flatMap((s) => (s.yawDeg === null ? [] : [s.yawDeg]))));
    const typical = typicalLengths(this.#samples.map((s) => s.lengths));
    this.#unitPx = typical.upperArm?.px ?? this.#unitPx;
    const { statureCm } = this.#settings;
    this.#scale = statureCm === null ? null : scaleFrom(typical, statureCm, frame.heightPx);
  }
}
