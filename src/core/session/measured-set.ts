import type { Phase } from '../exercises/judgement.ts';
import type { KinematicFrame, ViewOfSet } from '../kinematics/kinematic-frame.ts';
import {
  isMeasured,
  NOT_MEASURED_REASONS,
  type Measured,
  type NotMeasuredReason,
} from '../kinematics/measured.ts';
import type { MeasuredHandShare } from '../loads/measured-body-curl.ts';
import { FRESH_GATE, stepGate } from '../pose/gate.ts';
import { LANDMARK_NAMES, type Side } from '../pose/landmark.ts';
import type { ImageLandmark, PoseFrame } from '../pose/pose-frame.ts';
import type { JudgedSet } from './build-session.ts';
import { followsFromLandmarks } from './follows-from-landmarks.ts';
import type { SetFindings } from './session-record.ts';

/*
 * A measured set as columns of numbers: eighteen thousand frames pass from thread to thread at once and without a
 * copy, and a screen reads out of them the few it shows.
 */

/** The measures that are shown over the time of a set. */
const SHOWN_MEASURES = [
  'elbowFlexionDeg',
  'shoulderFlexionDeg',
  'trunkInclinationDeg',
  'torsoTravelCm',
  'torsoTravelUpperArms',
  'forearmFromHorizontalDeg',
] as const satisfies readonly (keyof KinematicFrame)[];
export type ShownMeasure = (typeof SHOWN_MEASURES)[number];

/** One measure frame by frame. Value, low and high are NaN where it was not measured; there the reason stands. */
export interface MeasuredColumn {
  readonly values: Float64Array<ArrayBuffer>;
  readonly lows: Float64Array<ArrayBuffer>;
  readonly highs: Float64Array<ArrayBuffer>;
  readonly reasons: Uint8Array<ArrayBuffer>;
}

/** Everything of a set that its screens show, one entry a frame. */
export interface MeasuredSet {
  readonly timesSeconds: Float64Array<ArrayBuffer>;
  readonly view: ViewOfSet;
  readonly columns: Readonly<Record<ShownMeasure, MeasuredColumn>>;
  /** Why the treated elbow was not measured. */
  readonly reasons: Uint8Array<ArrayBuffer>;
  readonly phases: Uint8Array<ArrayBuffer>;
  /** 1 where left and right were found exchanged and put right. */
  readonly exchanged: Uint8Array<ArrayBuffer>;
  /** Width and height of each picture, pixels. */
  readonly sizesPx: Int32Array<ArrayBuffer>;
  /** 33 times x, y (pixels) and visibility for each picture, NaN where nobody was found. Single precision, for drawing. */
  readonly landmarks: Float32Array<ArrayBuffer>;
  /** Body weight at the hands over the repetitions of a body-moving curl, an estimate; none of other exercises. */
  readonly handShares: readonly MeasuredHandShare[];
  /** False where the figures that the record says of the set cannot come from these landmarks. */
  readonly follows: boolean;
}

/** A stored picture's figure, for drawing; landmarks null where nobody was found. */
export interface DrawnFrame {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly landmarks: readonly ImageLandmark[] | null;
}

const PHASES = ['rest', 'in-range', 'bending', 'top', 'lowering'] as const satisfies readonly Phase[];

/** Reasons are kept as their place in NOT_MEASURED_REASONS, counted from 1; 0 stands for none. */
function reasonCode(reason: NotMeasuredReason | null): number {
  return reason === null ? 0 : NOT_MEASURED_REASONS.indexOf(reason) + 1;
}

/**
 * A measured set out of what was worked out from its frames.
 * @param kept - what the record says of the set
 * @param handShares - is handed in because pages that only read sets must not load statics
 */
export function measuredSetOf(
  { frames, series, phases, findings }: JudgedSet,
  kept: SetFindings,
  side: Side,
  handShares: readonly MeasuredHandShare[],
): MeasuredSet {
  const column = (measure: ShownMeasure): MeasuredColumn =>
    columnOf(series.frames.map((frame) => frame[measure]));
  return {
    timesSeconds: Float64Array.from(series.frames, ({ timeSeconds }) => timeSeconds),
    view: series.view,
    columns: {
      elbowFlexionDeg: column('elbowFlexionDeg'),
      shoulderFlexionDeg: column('shoulderFlexionDeg'),
      trunkInclinationDeg: column('trunkInclinationDeg'),
      torsoTravelCm: column('torsoTravelCm'),
      torsoTravelUpperArms: column('torsoTravelUpperArms'),
      forearmFromHorizontalDeg: column('forearmFromHorizontalDeg'),
    },
    reasons: Uint8Array.from(series.frames, ({ reason }) => reasonCode(reason)),
    phases: Uint8Array.from(phases, (phase) => PHASES.indexOf(phase)),
    exchanged: exchangedFrames(frames, side),
    sizesPx: Int32Array.from(frames.flatMap(({ widthPx, heightPx }) => [widthPx, heightPx])),
    landmarks: landmarksOf(frames),
    handShares,
    follows: followsFromLandmarks(kept, findings),
  };
}

/** The buffers of a measured set, to be handed over to another thread instead of copied. */
export function buffersOf(set: MeasuredSet): ArrayBuffer[] {
  const { timesSeconds, columns, reasons, phases, exchanged, sizesPx, landmarks } = set;
  const ofColumns = SHOWN_MEASURES.flatMap((measure) => Object.values(columns[measure]));
  const all = [timesSeconds, reasons, phases, exchanged, sizesPx, landmarks, ...ofColumns];
  return all.map(({ buffer }) => buffer);
}

/** A value of a column with its interval, or the reason why there is none. Throws outside of the set. */
export function measuredAt({ values, lows, highs, reasons }: MeasuredColumn, index: number): Measured {
  const [value, low, high] = [values[index], lows[index], highs[index]];
  if (value === undefined || low === undefined || high === undefined)
    throw new RangeError(`measuredAt: the set has no frame ${String(index)}.`);
  const reason = reasonAt(reasons, index);
  return reason === null ? { value, low, high } : { notMeasured: reason };
}

/** The reason at a frame of a column of reasons, or null where there is none. */
export function reasonAt(reasons: Uint8Array, index: number): NotMeasuredReason | null {
  return NOT_MEASURED_REASONS[(reasons[index] ?? 0) - 1] ?? null;
}

/** The phase of a frame. */
export function phaseOfFrame({ phases }: MeasuredSet, index: number): Phase {
  return PHASES[phases[index] ?? 0] ?? 'rest';
}

/** The stored picture's figure, or null outside of the set. */
export function drawnFrame({ sizesPx, landmarks }: MeasuredSet, index: number): DrawnFrame | null {
  const [widthPx, heightPx] = sizesPx.subarray(2 * index, 2 * index + 2);
  if (widthPx === undefined || heightPx === undefined) return null;
  const of = (landmark: number, part: number): number =>
    landmarks[(index * LANDMARK_NAMES.length + landmark) * LANDMARK_PARTS + part] ?? NaN;
  if (Number.isNaN(of(0, 0))) return { widthPx, heightPx, landmarks: null };
  const drawn = LANDMARK_NAMES.map((_, i) => ({ x: of(i, 0), y: of(i, 1), visibility: of(i, 2) }));
  return { widthPx, heightPx, landmarks: drawn };
}

/** x, y, visibility. */
const LANDMARK_PARTS = 3;

function columnOf(measured: readonly Measured[]): MeasuredColumn {
  return {
    values: Float64Array.from(measured, (one) => (isMeasured(one) ? one.value : NaN)),
    lows: Float64Array.from(measured, (one) => (isMeasured(one) ? one.low : NaN)),
    highs: Float64Array.from(measured, (one) => (isMeasured(one) ? one.high : NaN)),
    reasons: Uint8Array.from(measured, (one) => (isMeasured(one) ? 0 : reasonCode(one.notMeasured))),
  };
}

function exchangedFrames(frames: readonly PoseFrame[], side: Side): Uint8Array<ArrayBuffer> {
  let state = FRESH_GATE;
  return Uint8Array.from(frames, (frame) => {
    const next = stepGate(state, frame, side);
    state = next.state;
    return next.gated.exchanged ? 1 : 0;
  });
}

function landmarksOf(frames: readonly PoseFrame[]): Float32Array<ArrayBuffer> {
  const all = new Float32Array(frames.length * LANDMARK_NAMES.length * LANDMARK_PARTS).fill(NaN);
  let place = 0;
  for (const { pose } of frames) {
    for (let i = 0; i < LANDMARK_NAMES.length; i++, place += LANDMARK_PARTS) {
      const landmark = pose?.image[i];
      if (landmark) all.set([landmark.x, landmark.y, landmark.visibility], place);
    }
  }
  return all;
}
