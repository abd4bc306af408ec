import { PEAK_SPEEDS, PROFILE_SHAPES, type ProfileShape } from './movement-profile.ts';
import {
  bounded,
  descendPhases,
  type FitPoint,
  type Parameters,
  type PhaseDescent,
  type PhaseWindow,
  type Shapes,
} from './phase-model.ts';

/** Where the phases of a repetition begin and end, seconds, in order; top start and lowering start may coincide. */
export interface PhaseMarks {
  readonly bendingStartSeconds: number;
  readonly topStartSeconds: number;
  readonly loweringStartSeconds: number;
  readonly loweringEndSeconds: number;
}

/** Phases with the levels between them and how far the trace strays from the model, degrees. */
export interface PhaseFit extends PhaseMarks {
  readonly startDeg: number;
  readonly topDeg: number;
  readonly endDeg: number;
  readonly residualSdDeg: number;
}

/** What is fitted, with first guesses of the marks. */
export interface PhaseProblem extends PhaseWindow {
  readonly guess: PhaseMarks;
}

/**
 * A trace is averaged in this many bins at most. For the record: more changes nothing but the time it takes. Live fewer
 * do, because the fit must be over before the next picture; the record's judgement is what counts.
 */
export const MOST_BINS = { record: 120, live: 40 } as const;
/** Noise of neighbouring samples is alike for about so long: so far apart, two count as independent. */
const INDEPENDENT_SECONDS = 0.3;
/** Residual variance below which shapes are not told apart, square degrees: no trace is that exact. */
const LEAST_VARIANCE = 0.01;

/** The fits of one repetition, a shape at a time, and what its trace says for each shape. */
export interface ShapeFits {
  /** One for each of PROFILE_SHAPES, with the other movement in its best shape. */
  readonly bending: readonly PhaseDescent[];
  readonly lowering: readonly PhaseDescent[];
  readonly evidence: ShapeEvidence;
  readonly residualSdDeg: number;
}

/** Log likelihoods of the shapes, in the order of PROFILE_SHAPES; those of several repetitions are added. */
export interface ShapeEvidence {
  readonly bending: readonly number[];
  readonly lowering: readonly number[];
}

/** No repetition seen yet: all shapes alike. */
export const NO_EVIDENCE: ShapeEvidence = {
  bending: PROFILE_SHAPES.map(() => 0),
  lowering: PROFILE_SHAPES.map(() => 0),
};

/** What two sources say of the shapes together. */
export function addEvidence(a: ShapeEvidence, b: ShapeEvidence): ShapeEvidence {
  return {
    bending: a.bending.map((value, i) => value + (b.bending[i] ?? 0)),
    lowering: a.lowering.map((value, i) => value + (b.lowering[i] ?? 0)),
  };
}

/**
 * Fits plateau, bending, plateau, lowering, plateau by least squares, with free times and free levels, for each shape
 * of movement in PROFILE_SHAPES; plateaus may vanish, then a phase runs from turning point to turning point. Onset and
 * end are thus those of the whole movement, not crossings of a share of the range, and use all samples, so that noise
 * of a few degrees moves them little.
 *
 * Levenberg (1944), Marquardt (1963); the levels are linear and are solved for at each step (variable projection,
 * Golub and Pereyra 1973). Null with fewer than six points.
 */
export function fitPhases(problem: PhaseProblem, mostBins: number): ShapeFits | null {
  const points = binned(problem.points, mostBins);
  if (points.length < 6) return null;
  const task = { ...problem, points };
  const middle = descendPhases(task, initial(task), ['cosine', 'cosine']);
  const fitAll = (which: Movement, from: PhaseDescent, shapes: Shapes): PhaseDescent[] =>
    PROFILE_SHAPES.map((shape) => {
      const start = reshaped(from.parameters, which, which === 'bending' ? shapes[0] : shapes[1], shape);
      return descendPhases(task, start, which === 'bending' ? [shape, shapes[1]] : [shapes[0], shape]);
    });
  const firstLowering = fitAll('lowering', middle, ['cosine', 'cosine']);
  const lowerShape = bestShape(firstLowering);
  const bending = fitAll('bending', fitOf(firstLowering, lowerShape), ['cosine', lowerShape]);
  const bendShape = bestShape(bending);
  const lowering = fitAll('lowering', fitOf(bending, bendShape), [bendShape, lowerShape]);
  const seconds = (points.at(-1)?.timeSeconds ?? 0) - (points[0]?.timeSeconds ?? 0);
  const independent = Math.min(points.length, seconds / INDEPENDENT_SECONDS);
  const best = Math.min(...lowering.map(({ evaluation }) => evaluation.sumOfSquares));
  const logLikelihood = ({ evaluation }: PhaseDescent): number =>
    (-independent / 2) * Math.log(evaluation.sumOfSquares + LEAST_VARIANCE * points.length);
  return {
    bending,
    lowering,
    evidence: { bending: bending.map(logLikelihood), lowering: lowering.map(logLikelihood) },
    residualSdDeg: Math.sqrt(best / points.length),
  };
}

/**
 * The phases of a repetition, its fits weighted by what all repetitions of the set say for each shape: one person moves
 * much alike from repetition to repetition, and one noisy trace tells shapes apart badly.
 */
export function settlePhases(fits: ShapeFits, evidence: ShapeEvidence): PhaseFit {
  const bend = weightedDescent(fits.bending, evidence.bending);
  const lower = weightedDescent(fits.lowering, evidence.lowering);
  // The two sets of fits may disagree by a hair on a top of no length.
  const top = (bend.topStart + lower.lowerStart) / 2;
  const overlap = bend.topStart > lower.lowerStart;
  return {
    bendingStartSeconds: bend.start,
    topStartSeconds: overlap ? top : bend.topStart,
    loweringStartSeconds: overlap ? top : lower.lowerStart,
    loweringEndSeconds: lower.lowerEnd,
    startDeg: bend.levels[0],
    topDeg: (bend.levels[1] + lower.levels[1]) / 2,
    endDeg: lower.levels[2],
    residualSdDeg: fits.residualSdDeg,
  };
}

type Movement = 'bending' | 'lowering';

function fitOf(fits: readonly PhaseDescent[], shape: ProfileShape): PhaseDescent {
  const fit = fits[PROFILE_SHAPES.indexOf(shape)];
  if (!fit) throw new RangeError(`There is no fit of the shape ${shape}.`);
  return fit;
}

/**
 * Where a descent with another shape starts: the movement keeps its middle and its highest speed, so that it lies along
 * the trace already and only the corners are left to find.
 */
function reshaped(p: Parameters, which: Movement, from: ProfileShape, to: ProfileShape): Parameters {
  const longer = p[which] * (PEAK_SPEEDS[to] / PEAK_SPEEDS[from] - 1);
  const shift = longer / 2;
  return bounded(
    which === 'bending'
      ? {
          ...p,
          start: p.start - shift,
          restBefore: p.restBefore - shift,
          bending: p.bending + longer,
          top: p.top - shift,
        }
      : { ...p, top: p.top - shift, lowering: p.lowering + longer, restAfter: p.restAfter - shift },
  );
}

function bestShape(fits: readonly PhaseDescent[]): ProfileShape {
  let best: ProfileShape = PROFILE_SHAPES[0];
  let least = Infinity;
  PROFILE_SHAPES.forEach((shape, i) => {
    const sum = fits[i]?.evaluation.sumOfSquares ?? Infinity;
    if (sum < least) [best, least] = [shape, sum];
  });
  return best;
}

function weightedDescent(
  fits: readonly PhaseDescent[],
  logLikelihoods: readonly number[],
): {
  start: number;
  topStart: number;
  lowerStart: number;
  lowerEnd: number;
  levels: [number, number, number];
} {
  const greatest = Math.max(...logLikelihoods);
  const weights = logLikelihoods.map((value) => Math.exp(value - greatest));
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = (pick: (fit: PhaseDescent) => number): number =>
    fits.reduce((sum, fit, i) => sum + (weights[i] ?? 0) * pick(fit), 0) / whole;
  const topStart = (p: Parameters): number => p.start + p.bending;
  return {
    start: mean(({ parameters: p }) => p.start),
    topStart: mean(({ parameters: p }) => topStart(p)),
    lowerStart: mean(({ parameters: p }) => topStart(p) + p.top),
    lowerEnd: mean(({ parameters: p }) => topStart(p) + p.top + p.lowering),
    levels: [
      mean(({ evaluation }) => evaluation.levels[0]),
      mean(({ evaluation }) => evaluation.levels[1]),
      mean(({ evaluation }) => evaluation.levels[2]),
    ],
  };
}

function binned(points: readonly FitPoint[], mostBins: number): FitPoint[] {
  const size = Math.ceil(points.length / mostBins);
  if (size <= 1) return [...points];
  const bins: FitPoint[] = [];
  for (let i = 0; i < points.length; i += size) {
    const bin = points.slice(i, i + size);
    const sum = (pick: (point: FitPoint) => number): number =>
      bin.reduce((all, point) => all + pick(point), 0);
    bins.push({
      timeSeconds: sum((point) => point.timeSeconds) / bin.length,
      flexionDeg: sum((point) => point.flexionDeg) / bin.length,
    });
  }
  return bins;
}

function initial({ guess, before, after }: PhaseProblem): Parameters {
  const {
    bendingStartSeconds: a,
    topStartSeconds: b,
    loweringStartSeconds: c,
    loweringEndSeconds: d,
  } = guess;
  return bounded({
    start: a,
    restBefore: before ? (a - before.midSeconds) / 2 : 0,
    bending: b - a,
    top: c - b,
    lowering: d - c,
    restAfter: after ? (after.midSeconds - d) / 2 : 0,
  });
}
