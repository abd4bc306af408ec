import { isMeasured } from '../kinematics/measured.ts';
import type { KinematicFrame } from '../kinematics/kinematic-frame.ts';
import { median } from '../math/statistics.ts';
import { longestBridgedStep } from '../signal/resample.ts';

/** One measured elbow angle with what its neighbours tell about it. */
export interface FlexionSample {
  readonly timeSeconds: number;
  readonly flexionDeg: number;
  /** Value of a line through the neighbours within SMOOTH_SECONDS, degrees: noise that is not movement averages out. */
  readonly smoothDeg: number;
  /** Slope of a line through the speed window, positive while bending. Null for a sample that stands alone. */
  readonly speedDegPerS: number | null;
  /** Seconds since the last measured sample when that is a gap, else 0. Infinity at the first sample. */
  readonly gapBeforeSeconds: number;
}

interface RawSample {
  readonly timeSeconds: number;
  readonly flexionDeg: number;
  readonly gapBeforeSeconds: number;
}

/** What stepTrace carries from frame to frame. */
export interface TraceState {
  /** Samples that others still need as neighbours, oldest first; the first `done` of them were given out. */
  readonly recent: readonly RawSample[];
  readonly done: number;
  readonly lastFrameSeconds: number | null;
  /** The last steps between frames, seconds, measured or not, for the longest step that is no gap. */
  readonly steps: readonly number[];
  readonly windowSeconds: number;
}

const SMOOTH_SECONDS = 0.3;
const STEPS_KEPT = 15;
/** Rate assumed before two frames have come; only the first gap depends on it. */
const USUAL_STEP_SECONDS = 1 / 30;

/** A trace without samples; windowSeconds is the length over which speed is taken. */
export function initialTrace(windowSeconds: number): TraceState {
  return { recent: [], done: 0, lastFrameSeconds: null, steps: [], windowSeconds };
}

/**
 * Takes in a frame and gives out the samples whose neighbourhood is complete: half a speed window late, or at once
 * when a gap follows. Frames whose time does not rise are left out.
 */
export function stepTrace(
  state: TraceState,
  frame: KinematicFrame,
): { readonly state: TraceState; readonly ready: readonly FlexionSample[] } {
  const { lastFrameSeconds } = state;
  if (lastFrameSeconds !== null && frame.timeSeconds <= lastFrameSeconds) return { state, ready: [] };
  const steps =
    lastFrameSeconds === null
      ? state.steps
      : [...state.steps, frame.timeSeconds - lastFrameSeconds].slice(-STEPS_KEPT);
  const timed = { ...state, steps, lastFrameSeconds: frame.timeSeconds };
  if (!isMeasured(frame.elbowFlexionDeg)) return { state: timed, ready: [] };

  const last = state.recent.at(-1);
  const since = last ? frame.timeSeconds - last.timeSeconds : Infinity;
  const isGap = since > longestBridgedStep(1 / (median(steps) ?? USUAL_STEP_SECONDS)) + 1e-9;
  const sample = {
    timeSeconds: frame.timeSeconds,
    flexionDeg: frame.elbowFlexionDeg.value,
    gapBeforeSeconds: isGap ? since : 0,
  };
  if (isGap) {
    return { state: { ...timed, recent: [sample], done: 0 }, ready: flushTrace(state) };
  }
  const recent = [...state.recent, sample];
  const half = state.windowSeconds / 2;
  let done = state.done;
  while (done < recent.length && (recent[done]?.timeSeconds ?? Infinity) + half <= sample.timeSeconds) done++;
  const ready = describe(recent, state.done, done, state.windowSeconds);
  const oldest = sample.timeSeconds - 2 * state.windowSeconds;
  let dropped = 0;
  while (dropped < done && (recent[dropped]?.timeSeconds ?? Infinity) < oldest) dropped++;
  return { state: { ...timed, recent: recent.slice(dropped), done: done - dropped }, ready };
}

/** The samples that were still waiting for neighbours, for the end of a set. */
function flushTrace(state: TraceState): FlexionSample[] {
  return describe(state.recent, state.done, state.recent.length, state.windowSeconds);
}

/** All samples of a series of frames, by the same steps as live. */
export function traceOf(frames: readonly KinematicFrame[], windowSeconds: number): FlexionSample[] {
  const samples: FlexionSample[] = [];
  let state = initialTrace(windowSeconds);
  for (const frame of frames) {
    const next = stepTrace(state, frame);
    state = next.state;
    samples.push(...next.ready);
  }
  samples.push(...flushTrace(state));
  return samples;
}

function describe(
  recent: readonly RawSample[],
  from: number,
  to: number,
  windowSeconds: number,
): FlexionSample[] {
  return recent.slice(from, to).map((sample) => ({
    ...sample,
    smoothDeg: lineAt(recent, sample.timeSeconds, SMOOTH_SECONDS / 2)?.value ?? sample.flexionDeg,
    speedDegPerS: lineAt(recent, sample.timeSeconds, windowSeconds / 2)?.slope ?? null,
  }));
}

/** Least-squares line through the samples within halfSeconds of a time: its value there and its slope. */
function lineAt(
  samples: readonly RawSample[],
  timeSeconds: number,
  halfSeconds: number,
): { value: number; slope: number } | null {
  let n = 0;
  let sumT = 0;
  let sumY = 0;
  let sumTT = 0;
  let sumTY = 0;
  for (const sample of samples) {
    const t = sample.timeSeconds - timeSeconds;
    if (Math.abs(t) > halfSeconds + 1e-9) continue;
    n++;
    sumT += t;
    sumY += sample.flexionDeg;
    sumTT += t * t;
    sumTY += t * sample.flexionDeg;
  }
  const spread = n * sumTT - sumT * sumT;
  if (n < 2 || spread <= 0) return null;
  const slope = (n * sumTY - sumT * sumY) / spread;
  return { value: (sumY - slope * sumT) / n, slope };
}
