import type { FlexionSample } from './flexion-trace.ts';
import type { Span } from './judgement.ts';
import type { Thresholds } from './thresholds.ts';

/** The side by which the target range was left. */
type LeftBy = 'too-straight' | 'too-bent';

/** One stay in the target range, from its first crossing in to its last crossing out. */
export interface HoldRun {
  /** Time inside the bounds and slow enough, in order; excursions and gaps lie between the spans. */
  readonly spans: readonly Span[];
  /** Null when the set ended in the range, or the arm was lost in it. */
  readonly leftBy: LeftBy | null;
}

type Place =
  | { readonly kind: 'out' }
  | { readonly kind: 'entering'; readonly sinceSeconds: number }
  | { readonly kind: 'in' }
  | {
      readonly kind: 'leaving';
      readonly sinceSeconds: number;
      readonly leftBy: LeftBy;
    };

/** What stepHoldRuns carries from sample to sample. */
export interface HoldRunState {
  readonly last: FlexionSample | null;
  readonly holding: boolean;
  readonly place: Place;
  /** Spans of the stay that is going on. */
  readonly spans: readonly Span[];
  /** Since the last span ended the angle has not left the range: only the speed was above its limit. */
  readonly isOnlyFast: boolean;
  readonly runs: readonly HoldRun[];
}

/** Nothing seen yet. */
export const INITIAL_HOLD_RUNS: HoldRunState = {
  last: null,
  holding: false,
  place: { kind: 'out' },
  spans: [],
  isOnlyFast: false,
  runs: [],
};

/**
 * Takes in one sample. Whether one holds is decided with hysteresis and confirmed after confirmSeconds; what counts is
 * decided by the bounds themselves, with the crossing interpolated between samples, so that neither the hysteresis nor
 * noise at a bound makes the clock run long or short. A moment of speed within the range, shorter than confirmSeconds,
 * counts: that is tremor or noise, and whoever goes in or out at speed passes a bound.
 */
export function stepHoldRuns(
  state: HoldRunState,
  sample: FlexionSample,
  thresholds: Thresholds,
): HoldRunState {
  const { last } = state;
  const inside = last && sample.gapBeforeSeconds === 0 ? insidePart(last, sample, thresholds) : null;
  const holding = isHolding(state.holding, sample, thresholds);
  let { place, runs } = state;
  const bridged = state.isOnlyFast ? thresholds.confirmSeconds : 0;
  let spans = inside && place.kind !== 'out' ? joined(state.spans, inside, bridged) : state.spans;

  const lost = sample.gapBeforeSeconds > thresholds.holdSeparationSeconds;
  if (lost && (place.kind === 'in' || place.kind === 'leaving')) {
    runs = withRun(runs, spans, null, thresholds);
    place = { kind: 'out' };
  }
  if (sample.gapBeforeSeconds > 0 && place.kind === 'entering') place = { kind: 'out' };
  if (place.kind === 'out') {
    spans = inside ? [inside] : [];
    if (holding) place = { kind: 'entering', sinceSeconds: inside?.startSeconds ?? sample.timeSeconds };
  }

  if (place.kind === 'entering') {
    if (!holding) {
      place = { kind: 'out' };
      spans = [];
    } else if (sample.timeSeconds - place.sinceSeconds >= thresholds.confirmSeconds) place = { kind: 'in' };
  } else if (place.kind === 'in' && !holding) {
    place = {
      kind: 'leaving',
      sinceSeconds: spans.at(-1)?.endSeconds ?? sample.timeSeconds,
      leftBy: sideOut(sample, thresholds),
    };
  } else if (place.kind === 'leaving' && holding) place = { kind: 'in' };
  if (place.kind === 'leaving' && sample.timeSeconds - place.sinceSeconds >= thresholds.confirmSeconds) {
    runs = withRun(runs, spans, place.leftBy, thresholds);
    place = { kind: 'out' };
    spans = [];
  }
  const isWithin = sample.gapBeforeSeconds === 0 && outOfRangeSide(sample.flexionDeg, thresholds) === null;
  return {
    last: sample,
    holding,
    place,
    spans,
    isOnlyFast: isWithin && (state.isOnlyFast || inside !== null),
    runs,
  };
}

/**
 * The stays until now, the one that is going on among them once it is confirmed.
 */
export function runsSoFar(state: HoldRunState, thresholds: Thresholds): readonly HoldRun[] {
  const { place, spans, runs } = state;
  if (place.kind === 'in') return withRun(runs, spans, null, thresholds);
  if (place.kind === 'leaving') {
    return withRun(runs, spans, place.leftBy, thresholds);
  }
  return runs;
}

/** Stays that belong to one hold: what lies between them is no longer than holdSeparationSeconds. */
export function groupRuns(runs: readonly HoldRun[], thresholds: Thresholds): readonly (readonly HoldRun[])[] {
  const groups: HoldRun[][] = [];
  for (const run of runs) {
    const group = groups.at(-1);
    const before = group?.at(-1)?.spans.at(-1)?.endSeconds ?? -Infinity;
    const starts = run.spans[0]?.startSeconds ?? before;
    if (group && starts - before <= thresholds.holdSeparationSeconds) group.push(run);
    else groups.push([run]);
  }
  return groups;
}

/** Seconds covered by spans. */
export function secondsOf(spans: readonly Span[]): number {
  return spans.reduce((sum, { startSeconds, endSeconds }) => sum + endSeconds - startSeconds, 0);
}

/** By which side a flexion lies out of the target range, or null inside it. */
function outOfRangeSide(flexionDeg: number, thresholds: Thresholds): LeftBy | null {
  if (flexionDeg < thresholds.targetAngleDeg - thresholds.toleranceDeg) return 'too-straight';
  return flexionDeg > thresholds.targetAngleDeg + thresholds.toleranceDeg ? 'too-bent' : null;
}

/** Out of the range by its side; fast but within it, by the way the arm moves. */
function sideOut(sample: FlexionSample, thresholds: Thresholds): LeftBy {
  return (
    outOfRangeSide(sample.flexionDeg, thresholds) ??
    ((sample.speedDegPerS ?? 0) > 0 ? 'too-bent' : 'too-straight')
  );
}

function isHolding(was: boolean, sample: FlexionSample, thresholds: Thresholds): boolean {
  const { targetAngleDeg, toleranceDeg, rangeHysteresisDeg, holdSpeedDegPerS, holdSpeedHysteresis } =
    thresholds;
  const off = Math.abs(sample.flexionDeg - targetAngleDeg);
  const speed = Math.abs(sample.speedDegPerS ?? 0);
  return was
    ? off <= toleranceDeg + rangeHysteresisDeg && speed <= holdSpeedDegPerS * holdSpeedHysteresis
    : off <= toleranceDeg && speed <= holdSpeedDegPerS;
}

/** The part of the time between two samples in which a line between them is within the bounds and slow enough. */
function insidePart(a: FlexionSample, b: FlexionSample, thresholds: Thresholds): Span | null {
  const { targetAngleDeg, toleranceDeg, holdSpeedDegPerS } = thresholds;
  const level = shareWithin(a.flexionDeg - targetAngleDeg, b.flexionDeg - targetAngleDeg, toleranceDeg);
  const slow = shareWithin(a.speedDegPerS ?? 0, b.speedDegPerS ?? 0, holdSpeedDegPerS);
  if (!level || !slow) return null;
  const from = Math.max(level[0], slow[0]);
  const to = Math.min(level[1], slow[1]);
  if (from >= to) return null;
  const step = b.timeSeconds - a.timeSeconds;
  return { startSeconds: a.timeSeconds + from * step, endSeconds: a.timeSeconds + to * step };
}

/** From which to which share of the way from x0 to x1 the size stays within the limit. */
function shareWithin(x0: number, x1: number, limit: number): readonly [number, number] | null {
  if (x0 === x1) return Math.abs(x0) <= limit ? [0, 1] : null;
  const atLow = (-limit - x0) / (x1 - x0);
  const atHigh = (limit - x0) / (x1 - x0);
  const from = Math.max(0, Math.min(atLow, atHigh));
  const to = Math.min(1, Math.max(atLow, atHigh));
  return from < to ? [from, to] : null;
}

/** The spans with one more, grown together with the last when what lies between is shorter than bridgedSeconds. */
function joined(spans: readonly Span[], next: Span, bridgedSeconds: number): readonly Span[] {
  const last = spans.at(-1);
  if (last && next.startSeconds - last.endSeconds < Math.max(1e-6, bridgedSeconds)) {
    return [...spans.slice(0, -1), { startSeconds: last.startSeconds, endSeconds: next.endSeconds }];
  }
  return [...spans, next];
}

function withRun(
  runs: readonly HoldRun[],
  spans: readonly Span[],
  leftBy: LeftBy | null,
  thresholds: Thresholds,
): readonly HoldRun[] {
  if (spans.length === 0 || secondsOf(spans) < thresholds.shortestRunSeconds) return runs;
  return [...runs, { spans, leftBy }];
}
