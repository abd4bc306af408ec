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

/**
 * What the postures between two levels are misread by, degrees: half a wave over the way, greatest half way, and a whole
 * wave, greatest at the quarters, positive at the first. A network errs by posture, the same in every repetition.
 */
export interface Misreading {
  readonly halfDeg: number;
  readonly quartersDeg: number;
}

/** Misread postures in a descent: taken as known, or to be found with the levels. */
export type MisreadingKnown = Misreading | 'to-find';

/** Postures read as they are. */
export const NOT_MISREAD: Misreading = { halfDeg: 0, quartersDeg: 0 };

/** How parameters fit the trace, and what fits best with them: the levels of start, top and end, and the misreading. */
interface PhaseEvaluation extends Evaluation {
  readonly levels: readonly [number, number, number];
  readonly misreading: Misreading;
}

/**
 * Usual size of a misreading, degrees, and of the noise about it, one standard deviation each; noise of neighbouring
 * samples is alike for about INDEPENDENT_SECONDS. They hold a misreading to be found back where the trace says little.
 * Measured on the developing set of rendered people: halves -1.3 +- 1.3, quarters -1.1 +- 1.9.
 */
const MISREADING_SD_DEG = 1.5;
const NOISE_SD_DEG = 1;
/** Noise of neighbouring samples is alike for about so long: so far apart, two count as independent. */
export const INDEPENDENT_SECONDS = 0.3;

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
export function descendPhases(
  problem: PhaseWindow,
  from: Parameters,
  shapes: Shapes,
  misreading: MisreadingKnown,
): PhaseDescent {
  const names = freeNames(problem);
  const named = (values: readonly number[]): Parameters => {
    const parameters: Record<(typeof NAMES)[number], number> = { ...from };
    names.forEach((name, i) => {
      parameters[name] = values[i] ?? parameters[name];
    });
    return parameters;
  };
  const { parameters, evaluation } = descend({
    evaluate: (values) => evaluate(problem, named(values), shapes, misreading),
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

/** Model: flexion = sum of levels times their shares + what the neighbours' far levels add + the misreading's waves. */
function evaluate(
  { points, before, after }: PhaseWindow,
  p: Parameters,
  [bendShape, lowerShape]: Shapes,
  misreading: MisreadingKnown,
): PhaseEvaluation {
  const topStart = p.start + p.bending;
  const lowerStart = topStart + p.top;
  const lowerEnd = lowerStart + p.lowering;
  const beforeEnd = p.start - p.restBefore;
  const afterStart = lowerEnd + p.restAfter;
  const known = misreading === 'to-find' ? NOT_MISREAD : misreading;
  const unknowns = misreading === 'to-find' ? 5 : 3;
  const isReadRight = misreading === NOT_MISREAD;
  const n = points.length;
  const columns = Array.from({ length: unknowns }, () => new Float64Array(n));
  const [start, top, end, half, quarters] = columns;
  const residuals = new Float64Array(n + unknowns - 3);
  for (let i = 0; i < n; i++) {
    const { timeSeconds: t, flexionDeg } = points[i] ?? { timeSeconds: 0, flexionDeg: 0 };
    const bent = profile(bendShape, (t - p.start) / p.bending);
    const lowered = profile(lowerShape, (t - lowerStart) / p.lowering);
    const fromBefore =
      before && t < beforeEnd ? tailShare(lowerShape, beforeEnd - t, beforeEnd - before.midSeconds) : 0;
    const intoAfter =
      after && t > afterStart ? tailShare(bendShape, t - afterStart, after.midSeconds - afterStart) : 0;
    if (start && top && end) {
      start[i] = 1 - bent - fromBefore;
      top[i] = bent - lowered;
      end[i] = lowered - intoAfter;
    }
    residuals[i] = flexionDeg - fromBefore * (before?.farDeg ?? 0) - intoAfter * (after?.farDeg ?? 0);
    if (isReadRight) continue;
    const way = Math.PI * (bent - lowered + fromBefore + intoAfter);
    const [halfWave, wholeWave] = [Math.sin(way), Math.sin(2 * way)];
    if (half && quarters) {
      half[i] = halfWave;
      quarters[i] = wholeWave;
    }
    residuals[i] = (residuals[i] ?? 0) - known.halfDeg * halfWave - known.quartersDeg * wholeWave;
  }
  const ridges = columns.map((_, which) => (which < 3 ? 1e-9 : misreadingRidge(points)));
  const linear = solve(
    columns.map((a, i) => columns.map((b, j) => product(a, b) + (i === j ? (ridges[i] ?? 0) : 0))),
    columns.map((column) => product(column, residuals)),
  );
  columns.forEach((column, k) => {
    const size = linear[k] ?? 0;
    for (let i = 0; i < n; i++) residuals[i] = (residuals[i] ?? 0) - (column[i] ?? 0) * size;
  });
  for (let k = 3; k < unknowns; k++) residuals[n + k - 3] = Math.sqrt(ridges[k] ?? 0) * (linear[k] ?? 0);
  const [l0 = 0, l1 = 0, l2 = 0, halfDeg = known.halfDeg, quartersDeg = known.quartersDeg] = linear;
  return {
    residuals,
    sumOfSquares: product(residuals, residuals),
    levels: [l0, l1, l2],
    misreading: { halfDeg, quartersDeg },
  };
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

/** How strongly the usual size of a misreading counts against points of which fewer are independent than there are. */
function misreadingRidge(points: readonly FitPoint[]): number {
  const seconds = (points.at(-1)?.timeSeconds ?? 0) - (points[0]?.timeSeconds ?? 0);
  const alike = Math.max(1, (points.length * INDEPENDENT_SECONDS) / Math.max(INDEPENDENT_SECONDS, seconds));
  return (alike * NOISE_SD_DEG ** 2) / MISREADING_SD_DEG ** 2;
}

/** Share of a neighbouring movement that is done so long past its near end, when half of it takes halfSeconds. */
function tailShare(shape: ProfileShape, pastSeconds: number, halfSeconds: number): number {
  return profile(shape, pastSeconds / Math.max(2 * SHORTEST_MOVEMENT_SECONDS, 2 * halfSeconds));
}
