import { PEAK_SPEEDS, PROFILE_SHAPES, type ProfileShape } from './movement-profile.ts';
import {
  bounded,
  descendPhases,
  INDEPENDENT_SECONDS,
  NOT_MISREAD,
  type FitPoint,
  type Misreading,
  type MisreadingKnown,
  type Parameters,
  type PhaseDescent,
  type PhaseWindow,
  type Shapes,
} from './phase-model.ts';

import { spokenForBoth, type ShapeEvidence } from './shape-evidence.ts';

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
/** Residual variance below which shapes are not told apart, square degrees: no trace is that exact. */
const LEAST_VARIANCE = 0.01;

/** The fits of one repetition, a shape at a time, and what its trace says for each shape. */
export interface ShapeFits {
  /** One for each of PROFILE_SHAPES, with the other movement in its best shape. */
  readonly bending: readonly PhaseDescent[];
  readonly lowering: readonly PhaseDescent[];
  readonly evidence: ShapeEvidence;
  readonly residualSdDeg: number;
  /** What was fitted. */
  readonly window: PhaseWindow;
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
  const middle = descendPhases(task, initial(task), ['cosine', 'cosine'], NOT_MISREAD);
  const fitAll = (which: Movement, from: PhaseDescent, shapes: Shapes): PhaseDescent[] =>
    PROFILE_SHAPES.map((shape) => {
      const start = reshaped(from.parameters, which, which === 'bending' ? shapes[0] : shapes[1], shape);
      return descendPhases(
        task,
        start,
        which === 'bending' ? [shape, shapes[1]] : [shapes[0], shape],
        NOT_MISREAD,
      );
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
    evidence: spokenForBoth(bending.map(logLikelihood), lowering.map(logLikelihood)),
    residualSdDeg: Math.sqrt(best / points.length),
    window: task,
  };
}

/**
 * What postures are misread by in one repetition, when it moves in the likeliest shapes: of use as the mean over the
 * repetitions of a set, because it is the same in all of them and one tells it badly.
 */
export function misreadingOf(fits: ShapeFits, evidence: ShapeEvidence): Misreading {
  return likeliestFit(fits, evidence, 'to-find').evaluation.misreading;
}

/** The mean of what several repetitions say; not misread when there are none. */
export function meanMisreading(all: readonly Misreading[]): Misreading {
  const mean = (pick: (one: Misreading) => number): number =>
    all.reduce((sum, one) => sum + pick(one), 0) / Math.max(1, all.length);
  return { halfDeg: mean(({ halfDeg }) => halfDeg), quartersDeg: mean(({ quartersDeg }) => quartersDeg) };
}

/**
 * The phases of a repetition, its fits weighted by what all repetitions of the set say for each shape: one person moves
 * much alike from repetition to repetition, and one noisy trace tells shapes apart badly. Then they are moved by what the
 * set's misread postures move the likeliest fit.
 */
export function settlePhases(fits: ShapeFits, evidence: ShapeEvidence, misreading: Misreading): PhaseFit {
  const bend = weightedMarks(fits.bending, evidence.bending);
  const lower = weightedMarks(fits.lowering, evidence.lowering);
  const plain = marksOf(likeliestFit(fits, evidence, NOT_MISREAD).parameters);
  const read =
    misreading === NOT_MISREAD ? plain : marksOf(likeliestFit(fits, evidence, misreading).parameters);
  const moved = (marks: MovementMarks, mark: keyof MovementMarks): number =>
    marks[mark] + read[mark] - plain[mark];
  const bendingStartSeconds = moved(bend, 'start');
  const topStartSeconds = Math.max(bendingStartSeconds, moved(bend, 'topStart'));
  const lowerStart = moved(lower, 'lowerStart');
  // The two sets of fits may disagree by a hair on a top of no length.
  const top = (topStartSeconds + lowerStart) / 2;
  const overlap = topStartSeconds > lowerStart;
  const loweringStartSeconds = overlap ? top : lowerStart;
  const levels = (from: readonly PhaseDescent[], likelihoods: readonly number[]) =>
    weighted(from, likelihoods, ({ evaluation }) => evaluation.levels);
  const bendLevels = levels(fits.bending, evidence.bending);
  const lowerLevels = levels(fits.lowering, evidence.lowering);
  return {
    bendingStartSeconds,
    topStartSeconds: overlap ? top : topStartSeconds,
    loweringStartSeconds,
    loweringEndSeconds: Math.max(loweringStartSeconds, moved(lower, 'lowerEnd')),
    startDeg: bendLevels[0] ?? 0,
    topDeg: ((bendLevels[1] ?? 0) + (lowerLevels[1] ?? 0)) / 2,
    endDeg: lowerLevels[2] ?? 0,
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

interface MovementMarks {
  readonly start: number;
  readonly topStart: number;
  readonly lowerStart: number;
  readonly lowerEnd: number;
}

function marksOf(p: Parameters): MovementMarks {
  const topStart = p.start + p.bending;
  const lowerStart = topStart + p.top;
  return { start: p.start, topStart, lowerStart, lowerEnd: lowerStart + p.lowering };
}

/** The fit in the likeliest shape of each movement. */
function likeliestFit(fits: ShapeFits, evidence: ShapeEvidence, misreading: MisreadingKnown): PhaseDescent {
  const likeliest = (values: readonly number[]): number => values.indexOf(Math.max(...values));
  const [bend, lower] = [likeliest(evidence.bending), likeliest(evidence.lowering)];
  const [bendShape = 'minimum-jerk', lowerShape = 'minimum-jerk'] = [
    PROFILE_SHAPES[bend],
    PROFILE_SHAPES[lower],
  ];
  return descendPhases(
    fits.window,
    fitOf(fits.lowering, lowerShape).parameters,
    [bendShape, lowerShape],
    misreading,
  );
}

function weightedMarks(fits: readonly PhaseDescent[], logLikelihoods: readonly number[]): MovementMarks {
  const marks = weighted(fits, logLikelihoods, ({ parameters }) => {
    const { start, topStart, lowerStart, lowerEnd } = marksOf(parameters);
    return [start, topStart, lowerStart, lowerEnd];
  });
  const [start = 0, topStart = 0, lowerStart = 0, lowerEnd = 0] = marks;
  return { start, topStart, lowerStart, lowerEnd };
}

/** Means of values of the fits by how likely each is. */
function weighted(
  fits: readonly PhaseDescent[],
  logLikelihoods: readonly number[],
  valuesOf: (fit: PhaseDescent) => readonly number[],
): number[] {
  const greatest = Math.max(...logLikelihoods);
  const weights = logLikelihoods.map((value) => Math.exp(value - greatest));
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  const all = fits.map(valuesOf);
  return (all[0] ?? []).map(
    (_, which) => all.reduce((sum, values, i) => sum + (weights[i] ?? 0) * (values[which] ?? 0), 0) / whole,
  );
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
