import { descend, type Evaluation } from '../math/levenberg-marquardt.ts';
import { solve } from '../math/linear-system.ts';
import { profile, type ProfileShape } from './movement-profile.ts';

/** A flexion at its time. */
export interface FitPoint {
  readonly timeSeconds: number;
  readonly flexionDeg: number;
}

/** A movement that reaches into the window: when it is half way, and the level at its far end. */
export interface Neighbour {
  readonly midSeconds: number;
  readonly farDeg: number;
}

/** What is fitted: the trace from half way of the movement before to half way of the movement after. */
export interface PhaseWindow {
  readonly points: readonly FitPoint[];
  /** The lowering before and the bending after, null where the window has none. */
  readonly before: Neighbour | null;
  readonly after: Neighbour | null;
}

/** A movement of the elbow takes at least so long. */
const SHORTEST_MOVEMENT_SECONDS = 0.1;
const ROUNDS = 12;
/** Step of the numeric derivatives, and the furthest that one step of the descent moves a time. */
const STEP_SECONDS = 0.01;
const LARGEST_STEP_SECONDS = 0.7;
/** A step that gains less than this share of the sum of squares is the last. */
const LEAST_GAIN = 1e-4;

/** Shapes of bending, of lowering. */
export type Shapes = readonly [ProfileShape, ProfileShape];

/**
 * Durations in order: plateau before (from the end of the lowering before), bending, top, lowering, plateau after.
 * `start` is the onset of bending.
 */
export interface Parameters {
  readonly start: number;
  readonly restBefore: number;
  readonly bending: number;
  readonly top: number;
  readonly lowering: number;
  readonly restAfter: number;
}

/** How parameters fit the trace, and the levels that fit best with them: start, top, end. */
interface PhaseEvaluation extends Evaluation {
  readonly levels: readonly [number, number, number];
}

/** Parameters that a descent ended in, and how they fit. */
export interface PhaseDescent {
  readonly parameters: Parameters;
  readonly evaluation: PhaseEvaluation;
}

/** Parameters with no movement shorter than it can be and no plateau shorter than none. */
export function bounded(p: Parameters): Parameters {
  return {
    start: p.start,
    restBefore: Math.max(0, p.restBefore),
    bending: Math.max(SHORTEST_MOVEMENT_SECONDS, p.bending),
    top: Math.max(0, p.top),
    lowering: Math.max(SHORTEST_MOVEMENT_SECONDS, p.lowering),
    restAfter: Math.max(0, p.restAfter),
  };
}

const NAMES = ['start', 'restBefore', 'bending', 'top', 'lowering', 'restAfter'] as const;

function freeNames({ before, after }: PhaseWindow): (typeof NAMES)[number][] {
  return NAMES.filter(
    (name) => (name !== 'restBefore' || before !== null) && (name !== 'restAfter' || after !== null),
  );
}

/** Goes down from a start to the least sum of squares with these shapes. */
export function descendPhases(problem: PhaseWindow, from: Parameters, shapes: Shapes): PhaseDescent {
  const names = freeNames(problem);
  const named = (values: readonly number[]): Parameters => {
    const parameters: Record<(typeof NAMES)[number], number> = { ...from };
    names.forEach((name, i) => {
      parameters[name] = values[i] ?? parameters[name];
    });
    return parameters;
  };
  const { parameters, evaluation } = descend({
    evaluate: (values) => evaluate(problem, named(values), shapes),
    start: names.map((name) => from[name]),
    derivativeSteps: names.map(() => STEP_SECONDS),
    largestStep: LARGEST_STEP_SECONDS,
    bounded: (values) => {
      const within = bounded(named(values));
      return names.map((name) => within[name]);
    },
    rounds: ROUNDS,
    leastGain: LEAST_GAIN,
  });
  return { parameters: named(parameters), evaluation };
}

/** Model: flexion = sum of levels times their shares + what the neighbours' far levels add. */
function evaluate(
  { points, before, after }: PhaseWindow,
  p: Parameters,
  [bendShape, lowerShape]: Shapes,
): PhaseEvaluation {
  const topStart = p.start + p.bending;
  const lowerStart = topStart + p.top;
  const lowerEnd = lowerStart + p.lowering;
  const beforeEnd = p.start - p.restBefore;
  const afterStart = lowerEnd + p.restAfter;
  const normal = [0, 0, 0, 0, 0, 0];
  const right = [0, 0, 0];
  const n = points.length;
  const shares = new Float64Array(3 * n);
  const residuals = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const { timeSeconds: t, flexionDeg } = points[i] ?? { timeSeconds: 0, flexionDeg: 0 };
    const bent = profile(bendShape, (t - p.start) / p.bending);
    const lowered = profile(lowerShape, (t - lowerStart) / p.lowering);
    const fromBefore =
      before && t < beforeEnd ? tailShare(lowerShape, beforeEnd - t, beforeEnd - before.midSeconds) : 0;
    const intoAfter =
      after && t > afterStart ? tailShare(bendShape, t - afterStart, after.midSeconds - afterStart) : 0;
    const s0 = 1 - bent - fromBefore;
    const s1 = bent - lowered;
    const s2 = lowered - intoAfter;
    const y = flexionDeg - fromBefore * (before?.farDeg ?? 0) - intoAfter * (after?.farDeg ?? 0);
    shares[3 * i] = s0;
    shares[3 * i + 1] = s1;
    shares[3 * i + 2] = s2;
    residuals[i] = y;
    normal[0] = (normal[0] ?? 0) + s0 * s0;
    normal[1] = (normal[1] ?? 0) + s0 * s1;
    normal[2] = (normal[2] ?? 0) + s0 * s2;
    normal[3] = (normal[3] ?? 0) + s1 * s1;
    normal[4] = (normal[4] ?? 0) + s1 * s2;
    normal[5] = (normal[5] ?? 0) + s2 * s2;
    right[0] = (right[0] ?? 0) + s0 * y;
    right[1] = (right[1] ?? 0) + s1 * y;
    right[2] = (right[2] ?? 0) + s2 * y;
  }
  const [a, b, c, d, e, f] = normal;
  const levels = solve(
    [
      [(a ?? 0) + 1e-9, b ?? 0, c ?? 0],
      [b ?? 0, (d ?? 0) + 1e-9, e ?? 0],
      [c ?? 0, e ?? 0, (f ?? 0) + 1e-9],
    ],
    right,
  );
  const [l0 = 0, l1 = 0, l2 = 0] = levels;
  let sumOfSquares = 0;
  for (let i = 0; i < n; i++) {
    const modelled =
      (shares[3 * i] ?? 0) * l0 + (shares[3 * i + 1] ?? 0) * l1 + (shares[3 * i + 2] ?? 0) * l2;
    const r = (residuals[i] ?? 0) - modelled;
    residuals[i] = r;
    sumOfSquares += r * r;
  }
  return { residuals, sumOfSquares, levels: [l0, l1, l2] };
}

/** Share of a neighbouring movement that is done so long past its near end, when half of it takes halfSeconds. */
function tailShare(shape: ProfileShape, pastSeconds: number, halfSeconds: number): number {
  return profile(shape, pastSeconds / Math.max(2 * SHORTEST_MOVEMENT_SECONDS, 2 * halfSeconds));
}
