import type { KinematicFrame, PlanePoint } from '../kinematics/kinematic-frame.ts';
import { estimate, isMeasured, notMeasured, valueOf, type Measured } from '../kinematics/measured.ts';
import { secondsOf, type HoldRun } from './hold-runs.ts';
import type { Flag, FlagKind, Hold, Span } from './judgement.ts';
import {
  difference,
  framesWithin,
  largestOver,
  lengthOf,
  meanOver,
  placeOver,
  smoothedOver,
  type Pick,
} from './span-statistics.ts';
import type { Thresholds } from './thresholds.ts';

/** What the start of a hold, to which places are compared, and its end last at most. */
const EDGE_SECONDS = 1;
/** Shorter holds give no drift: the line through them would be noise. */
const SHORTEST_DRIFT_SECONDS = 4;
/** Noise of flexion in a hold stays alike for about so long; it limits how many samples are independent. */
const INDEPENDENT_SECONDS = 0.5;
/** Speed on leaving is the slope over so long about the crossing: shorter, noise would hide a slow drift. */
const EXIT_SECONDS = { before: 1.5, after: 0.5 };
/** A fault of place must show for this share of the hold. */
const MOST_OF_IT = 0.5;

/** All measures and flags of one hold. Runs are those of one hold, in order, at least one; frames are in order. */
export function judgeHold(
  frames: readonly KinematicFrame[],
  runs: readonly HoldRun[],
  thresholds: Thresholds,
): Hold {
  const inRangeSpans = runs.flatMap((run) => run.spans);
  const span: Span = {
    startSeconds: inRangeSpans[0]?.startSeconds ?? 0,
    endSeconds: inRangeSpans.at(-1)?.endSeconds ?? 0,
  };
  const inRangeSeconds = secondsOf(inRangeSpans);
  const wholeSeconds = span.endSeconds - span.startSeconds;
  const inRange = inRangeSpans.flatMap((part) => framesWithin(frames, part));
  const edge = Math.min(EDGE_SECONDS, wholeSeconds / 3);
  const first = framesWithin(frames, { ...span, endSeconds: span.startSeconds + edge });
  const last = framesWithin(frames, { ...span, startSeconds: span.endSeconds - edge });
  const line = driftLine(inRange);
  const handPlace = placeOver(first, handOf);
  const rise = riseAbove(handPlace);
  const hold: Omit<Hold, 'flags'> = {
    ...span,
    inRangeSpans,
    inRangeSeconds,
    inRangeShare: wholeSeconds > 0 ? Math.min(1, inRangeSeconds / wholeSeconds) : 1,
    meanFlexionDeg: meanOver(inRange, (frame) => frame.elbowFlexionDeg),
    flexionSdDeg: line?.sdDeg ?? null,
    driftDegPer10s: line?.driftDegPer10s ?? notMeasured('too-short'),
    leftBy: runs.at(-1)?.leftBy ?? null,
    forearmFromHorizontalDeg: meanOver(inRange, (frame) => frame.forearmFromHorizontalDeg),
    elbowForwardUpperArms: meanOver(inRange, elbowForward),
    elbowForwardDriftUpperArms: difference(meanOver(last, elbowForward), meanOver(first, elbowForward)),
    handRiseUpperArms: largestOver(inRange, rise).measured,
  };
  const flags = [
    ...exitFlags(frames, runs, thresholds),
    ...angleFlags(hold, line, span, thresholds),
    ...placeFlags(hold, inRange, span, thresholds),
    ...handFlags(inRange, rise, offBar(handPlace, thresholds), thresholds),
  ];
  return { ...hold, flags };
}

function handOf({ body }: KinematicFrame): PlanePoint | null {
  return body.hand ?? body.wrist;
}

const elbowForward: Pick = (frame) => {
  const { elbow, shoulder } = frame.body;
  return lengthOf(frame, 'arm-not-seen', 2, elbow && shoulder ? elbow.forward - shoulder.forward : null);
};

const elbowAboveShoulder: Pick = (frame) => {
  const { elbow, shoulder } = frame.body;
  return lengthOf(frame, 'arm-not-seen', 2, elbow && shoulder ? elbow.up - shoulder.up : null);
};

function riseAbove(place: PlanePoint | null): Pick {
  return (frame) => {
    const hand = handOf(frame);
    return lengthOf(frame, 'hand-not-seen', 2, hand && place ? hand.up - place.up : null);
  };
}

/** How far the hand is from its first place along the bar's level or below it, over the permitted distance. */
function offBar(place: PlanePoint | null, thresholds: Thresholds): Pick {
  return (frame) => {
    const hand = handOf(frame);
    const off = hand && place ? Math.max(Math.abs(hand.forward - place.forward), place.up - hand.up) : null;
    return lengthOf(frame, 'hand-not-seen', 2, off === null ? null : off - thresholds.handOffBarUpperArms);
  };
}

interface DriftLine {
  readonly sdDeg: number;
  readonly sdAboutLineDeg: number;
  readonly driftDegPer10s: Measured;
}

/** Drift and scatter over the time in the range; null with fewer than three samples. */
function driftLine(frames: readonly KinematicFrame[]): DriftLine | null {
  const line = fitLine(frames);
  if (line === null) return null;
  const { n, slope, seconds, spreadT, squares, squaresLeft } = line;
  const sdAboutLineDeg = Math.sqrt(squaresLeft / (n - 2));
  const independent = Math.max(3, Math.min(n, seconds / INDEPENDENT_SECONDS));
  const slopeSd = sdAboutLineDeg / Math.sqrt((spreadT / n) * independent);
  return {
    sdDeg: Math.sqrt(squares / (n - 1)),
    sdAboutLineDeg,
    driftDegPer10s:
      seconds < SHORTEST_DRIFT_SECONDS ? notMeasured('too-short') : estimate(10 * slope, 10 * 1.96 * slopeSd),
  };
}

/** Straight line through flexion over time by least squares; null with fewer than three samples. */
function fitLine(frames: readonly KinematicFrame[]): {
  readonly n: number;
  readonly slope: number;
  readonly seconds: number;
  readonly spreadT: number;
  readonly squares: number;
  readonly squaresLeft: number;
} | null {
  const points = frames.flatMap((frame) => {
    const y = valueOf(frame.elbowFlexionDeg);
    return y === null ? [] : [{ t: frame.timeSeconds, y }];
  });
  const n = points.length;
  const from = points[0];
  const to = points.at(-1);
  if (n < 3 || !from || !to) return null;
  const sum = (pick: (point: { t: number; y: number }) => number): number =>
    points.reduce((all, point) => all + pick(point), 0);
  const meanT = sum(({ t }) => t) / n;
  const meanY = sum(({ y }) => y) / n;
  const spreadT = sum(({ t }) => (t - meanT) ** 2);
  const slope = sum(({ t, y }) => (t - meanT) * (y - meanY)) / spreadT;
  return {
    n,
    slope,
    seconds: to.t - from.t,
    spreadT,
    squares: sum(({ y }) => (y - meanY) ** 2),
    squaresLeft: sum(({ t, y }) => (y - meanY - slope * (t - meanT)) ** 2),
  };
}

function flagOver(kind: FlagKind, span: Span, evidenceSeconds: readonly number[]): Flag {
  return {
    kind,
    startSeconds: span.startSeconds,
    endSeconds: span.endSeconds,
    evidenceSeconds: [...evidenceSeconds],
  };
}

/**
 * Leaving the range is a fault when one came back within the same hold, or when the hold ended by drifting out; letting
 * go at the end is not.
 */
function exitFlags(
  frames: readonly KinematicFrame[],
  runs: readonly HoldRun[],
  thresholds: Thresholds,
): Flag[] {
  return runs.flatMap((run, i) => {
    if (run.leftBy === null) return [];
    const exit = run.spans.at(-1)?.endSeconds ?? 0;
    const back = runs[i + 1]?.spans[0]?.startSeconds;
    const about = { startSeconds: exit - EXIT_SECONDS.before, endSeconds: exit + EXIT_SECONDS.after };
    const slope = fitLine(framesWithin(frames, about))?.slope;
    const drifted = slope !== undefined && Math.abs(slope) < thresholds.letGoSpeedDegPerS;
    if (back === undefined && !drifted) return [];
    const endSeconds = back ?? exit + thresholds.confirmSeconds;
    return [flagOver(run.leftBy, { startSeconds: exit, endSeconds }, [exit])];
  });
}

function angleFlags(
  hold: Omit<Hold, 'flags'>,
  line: DriftLine | null,
  span: Span,
  thresholds: Thresholds,
): Flag[] {
  const flags: Flag[] = [];
  const drift = hold.driftDegPer10s;
  if (
    isMeasured(drift) &&
    Math.abs(drift.value) >= thresholds.driftDegPer10s &&
    Math.sign(drift.low) === Math.sign(drift.high)
  ) {
    flags.push(flagOver('drifting', span, [span.startSeconds, span.endSeconds]));
  }
  if (line && line.sdAboutLineDeg >= thresholds.unsteadySdDeg) {
    flags.push(flagOver('unsteady', span, [middleOf(span)]));
  }
  return flags;
}

function placeFlags(
  hold: Omit<Hold, 'flags'>,
  inRange: readonly KinematicFrame[],
  span: Span,
  thresholds: Thresholds,
): Flag[] {
  const flags: Flag[] = [];
  const level = valueOf(hold.forearmFromHorizontalDeg);
  if (level !== null && Math.abs(level) > thresholds.forearmLevelDeg) {
    flags.push(flagOver('forearm-not-level', span, [middleOf(span)]));
  }
  const place = valueOf(hold.elbowForwardUpperArms) ?? 0;
  const drift = valueOf(hold.elbowForwardDriftUpperArms) ?? 0;
  const { elbowPlaceUpperArms, elbowDriftUpperArms } = thresholds;
  if (place > elbowPlaceUpperArms || drift > elbowDriftUpperArms) {
    flags.push(flagOver('elbow-forward', span, [span.endSeconds]));
  }
  if (place < -elbowPlaceUpperArms || drift < -elbowDriftUpperArms) {
    flags.push(flagOver('elbow-back', span, [span.endSeconds]));
  }
  const heights = smoothedOver(inRange, elbowAboveShoulder);
  const above = heights.filter(({ value }) => value > 0);
  const [firstAbove] = above;
  if (firstAbove && above.length > MOST_OF_IT * heights.length) {
    flags.push(flagOver('elbow-above-shoulder', span, [firstAbove.timeSeconds]));
  }
  return flags;
}

function handFlags(
  inRange: readonly KinematicFrame[],
  rise: Pick,
  off: Pick,
  thresholds: Thresholds,
): Flag[] {
  return [
    ...stretchFlags('hand-rising', inRange, rise, thresholds.handRiseUpperArms, thresholds),
    ...stretchFlags('hand-not-under-bar', inRange, off, 0, thresholds),
  ];
}

/** A flag for each time that a smoothed quantity stays above a limit for at least confirmSeconds. */
function stretchFlags(
  kind: FlagKind,
  frames: readonly KinematicFrame[],
  pick: Pick,
  limit: number,
  thresholds: Thresholds,
): Flag[] {
  const flags: Flag[] = [];
  let since: number | null = null;
  let until = 0;
  const close = (): void => {
    if (since !== null && until - since >= thresholds.confirmSeconds) {
      flags.push(flagOver(kind, { startSeconds: since, endSeconds: until }, [since]));
    }
    since = null;
  };
  for (const { timeSeconds, value } of smoothedOver(frames, pick)) {
    if (value > limit) {
      since ??= timeSeconds;
      until = timeSeconds;
    } else close();
  }
  close();
  return flags;
}

function middleOf(span: Span): number {
  return (span.startSeconds + span.endSeconds) / 2;
}
