import type { FlexionSample } from './flexion-trace.ts';
import type { Thresholds } from './thresholds.ts';

/** A place where bending turns into lowering (top) or the other way round (bottom). */
export interface TurningPoint {
  readonly kind: 'top' | 'bottom';
  readonly timeSeconds: number;
  /** Smoothed elbow flexion there. */
  readonly flexionDeg: number;
  readonly speedDegPerS: number;
  /** First or last of its stretch: the arm may have come from, or gone, further. */
  readonly open: boolean;
  /** Length of a gap that touches it, 0 without: the turn itself may lie in the gap. */
  readonly gapSeconds: number;
}

/** A part of the set without a gap that could hide a repetition. */
export interface Stretch {
  readonly startSeconds: number;
  readonly endSeconds: number;
  /** Confirmed turns in order, alternating; the first is open. */
  readonly points: readonly TurningPoint[];
  /** Furthest places since the last confirmed turn; the one against the way of movement is of use only at the start. */
  readonly highest: TurningPoint;
  readonly lowest: TurningPoint;
  readonly way: 'up' | 'down' | null;
}

/** Turning points of a set, stretch by stretch. */
export type TurningState = readonly Stretch[];

/** Nothing seen yet. */
export const NO_TURNS: TurningState = [];

/**
 * Takes in a sample. A turn is confirmed once the arm has moved back by smallestRangeDeg; the finer decision, which of
 * these turns bound repetitions, needs the person's own range and is made in segmentRepetitions.
 */
export function stepTurning(
  state: TurningState,
  sample: FlexionSample,
  thresholds: Thresholds,
): TurningState {
  const current = state.at(-1);
  if (!current || sample.gapBeforeSeconds > thresholds.gapInRepetitionSeconds) {
    return [...state, startStretch(sample)];
  }
  return [...state.slice(0, -1), extend(current, sample, thresholds.smallestRangeDeg)];
}

/** Whether two states have the same turns, the open ones included; if not told so, they may still be alike. */
export function hasSameTurns(a: TurningState, b: TurningState): boolean {
  return (
    a.length === b.length &&
    a.every((one, i) => {
      const other = b[i];
      if (one === other) return true;
      if (other === undefined || one.points !== other.points || one.way !== other.way) return false;
      return (
        one.way === null || (one.way === 'up' ? one.highest === other.highest : one.lowest === other.lowest)
      );
    })
  );
}

/** All turns of a stretch with the one that is not confirmed yet as its open end. */
export function turnsOf(stretch: Stretch): readonly TurningPoint[] {
  const { points, way, highest, lowest } = stretch;
  if (way === null) return points;
  return [...points, { ...(way === 'up' ? highest : lowest), open: true }];
}

/**
 * The turns that remain when swings smaller than sizeDeg, and swings of less than sizeDeg * 2 that are quicker than
 * quickSeconds, are taken for shaking. Ends stay open.
 */
export function prunedTurns(
  turns: readonly TurningPoint[],
  sizeDeg: number,
  quickSeconds: number,
): readonly TurningPoint[] {
  let kept = turns;
  for (;;) {
    const weakest = weakestSwing(kept, sizeDeg, quickSeconds);
    if (weakest === null) return kept;
    kept = withoutSwing(kept, weakest);
  }
}

/** Index of the first turn of the smallest swing that is none, or null. */
function weakestSwing(turns: readonly TurningPoint[], sizeDeg: number, quickSeconds: number): number | null {
  let weakest: number | null = null;
  let least = Infinity;
  for (let i = 0; i + 1 < turns.length; i++) {
    const a = turns[i];
    const b = turns[i + 1];
    if (!a || !b) continue;
    const size = Math.abs(b.flexionDeg - a.flexionDeg);
    const shaking = size < 2 * sizeDeg && b.timeSeconds - a.timeSeconds < quickSeconds;
    if ((size < sizeDeg || shaking) && size < least) {
      least = size;
      weakest = i;
    }
  }
  return weakest;
}

/**
 * Takes a swing out. Inside, both its turns go and the neighbours of like kind meet; at an end the outer turn goes and
 * the inner one becomes the open end, unless it was the further one.
 */
function withoutSwing(turns: readonly TurningPoint[], i: number): TurningPoint[] {
  const isFirst = i === 0;
  const isLast = i + 2 === turns.length;
  if (isFirst && isLast) return [];
  if (isFirst) return turns.slice(1).map((turn, k) => (k === 0 ? { ...turn, open: true } : turn));
  if (isLast) {
    return turns.slice(0, -1).map((turn, k) => (k === turns.length - 2 ? { ...turn, open: true } : turn));
  }
  return [...turns.slice(0, i), ...turns.slice(i + 2)];
}

function startStretch(sample: FlexionSample): Stretch {
  const here = { ...turnAt(sample), open: true };
  return {
    startSeconds: sample.timeSeconds,
    endSeconds: sample.timeSeconds,
    points: [],
    highest: { ...here, kind: 'top' },
    lowest: { ...here, kind: 'bottom' },
    way: null,
  };
}

function extend(stretch: Stretch, sample: FlexionSample, sizeDeg: number): Stretch {
  const here = turnAt(sample);
  const gap = sample.gapBeforeSeconds;
  // A gap after the furthest sample touches that turn as well: the arm may have gone further unseen.
  const touched = (turn: TurningPoint): TurningPoint =>
    gap > 0 && turn.timeSeconds === stretch.endSeconds ? { ...turn, gapSeconds: gap } : turn;
  const highest =
    here.flexionDeg > stretch.highest.flexionDeg
      ? { ...here, kind: 'top' as const }
      : touched(stretch.highest);
  const lowest =
    here.flexionDeg < stretch.lowest.flexionDeg
      ? { ...here, kind: 'bottom' as const }
      : touched(stretch.lowest);
  const moved = { ...stretch, endSeconds: sample.timeSeconds, highest, lowest };
  const fell = stretch.way !== 'down' && highest.flexionDeg - here.flexionDeg >= sizeDeg;
  const rose = stretch.way !== 'up' && here.flexionDeg - lowest.flexionDeg >= sizeDeg;
  if (fell) {
    return {
      ...moved,
      way: 'down',
      points: [...stretch.points, highest],
      lowest: { ...here, kind: 'bottom' },
    };
  }
  if (rose) {
    return { ...moved, way: 'up', points: [...stretch.points, lowest], highest: { ...here, kind: 'top' } };
  }
  return moved;
}

function turnAt(sample: FlexionSample): TurningPoint {
  return {
    kind: 'top',
    timeSeconds: sample.timeSeconds,
    flexionDeg: sample.smoothDeg,
    speedDegPerS: sample.speedDegPerS ?? 0,
    open: false,
    gapSeconds: sample.gapBeforeSeconds,
  };
}
