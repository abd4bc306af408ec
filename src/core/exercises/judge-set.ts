import type { KinematicFrame, KinematicSeries, PlanePoint } from '../kinematics/kinematic-frame.ts';
import { isMeasured } from '../kinematics/measured.ts';
import { median } from '../math/statistics.ts';
import type { ExerciseSettings } from './exercise.ts';
import { traceOf, type FlexionSample } from './flexion-trace.ts';
import { groupRuns, INITIAL_HOLD_RUNS, runsSoFar, stepHoldRuns } from './hold-runs.ts';
import { judgeHold } from './judge-hold.ts';
import { measureRepetition } from './judge-repetition.ts';
import type { Hold, Repetition, SetJudgement } from './judgement.ts';
import { repetitionFlags } from './repetition-flags.ts';
import {
  meanMisreading,
  misreadingOf,
  MOST_BINS,
  type PhaseFit,
  settlePhases,
  type ShapeFits,
} from './phase-fit.ts';
import { NOT_MISREAD, type Misreading } from './phase-model.ts';
import { addEvidence, NO_EVIDENCE, type ShapeEvidence } from './shape-evidence.ts';
import { fitRepetition } from './repetition-phases.ts';
import {
  segmentRepetitions,
  withFittedLevels,
  type RepetitionTurns,
  type SetTurns,
} from './repetition-turns.ts';
import { distanceFrom, framesWithin, largestOver, placeOver } from './span-statistics.ts';
import type { Thresholds } from './thresholds.ts';
import { NO_TURNS, stepTurning } from './turning-points.ts';

/** Judges a whole set: its holds when the exercise is a hold, else its repetitions. */
export function judgeSet(
  series: KinematicSeries,
  settings: ExerciseSettings,
  thresholds: Thresholds,
): SetJudgement {
  const samples = traceOf(series.frames, thresholds.speedWindowSeconds);
  return settings.exercise === 'hold'
    ? { holds: judgeHolds(series.frames, samples, thresholds), repetitions: [] }
    : { holds: [], repetitions: judgeRepetitions(series, samples, settings, thresholds) };
}

function judgeHolds(
  frames: readonly KinematicFrame[],
  samples: readonly FlexionSample[],
  thresholds: Thresholds,
): Hold[] {
  const state = samples.reduce(
    (before, sample) => stepHoldRuns(before, sample, thresholds),
    INITIAL_HOLD_RUNS,
  );
  return groupRuns(runsSoFar(state, thresholds), thresholds).map((runs) =>
    judgeHold(frames, runs, thresholds),
  );
}

/** What the repetitions of a set tell of each other, and their turns. */
export interface SetReading {
  readonly setTurns: SetTurns;
  /** One for each of the turns' repetitions; null where none could be had. */
  readonly fits: readonly (PhaseFit | null)[];
  readonly evidence: ShapeEvidence;
  readonly misreading: Misreading;
}

/** Finds the repetitions of a set and what they tell of each other. Samples are those of the whole set, in order. */
export function readRepetitions(samples: readonly FlexionSample[], thresholds: Thresholds): SetReading {
  const state = samples.reduce((before, sample) => stepTurning(before, sample, thresholds), NO_TURNS);
  const found = segmentRepetitions(state, thresholds);
  const shapeFits = found.repetitions.map((turns) => fitRepetition(samples, turns, MOST_BINS.record));
  const isTelling = tellingFits(shapeFits);
  const evidence = shapeFits.reduce(
    (sum, fit) => (fit && isTelling(fit) ? addEvidence(sum, fit.evidence) : sum),
    NO_EVIDENCE,
  );
  // A partial repetition passes other postures on its way: it neither tells nor has the misreading of the others.
  const misreading = meanMisreading(
    found.repetitions.flatMap(({ partial }, i) => {
      const fit = shapeFits[i];
      return fit && isTelling(fit) && !partial ? [misreadingOf(fit, evidence)] : [];
    }),
  );
  const fits = shapeFits.map((fit, i) =>
    fit ? settlePhases(fit, evidence, found.repetitions[i]?.partial ? NOT_MISREAD : misreading) : null,
  );
  return { setTurns: withFittedLevels(found, fits, thresholds), fits, evidence, misreading };
}

function judgeRepetitions(
  series: KinematicSeries,
  samples: readonly FlexionSample[],
  settings: ExerciseSettings,
  thresholds: Thresholds,
): Repetition[] {
  const { setTurns, fits } = readRepetitions(samples, thresholds);
  const set = { setTurns, settings, thresholds, upperArmCm: series.view.upperArmCm };
  return setTurns.repetitions.flatMap((turns, i) => {
    const fit = fits[i];
    return fit ? (judgeRepetition(series.frames, samples, turns, fit, set) ?? []) : [];
  });
}

/** A trace that strays from every shape by more than so many times what is usual in the set holds a stop or a bounce. */
const MOST_STRAYING = 1.7;

/** Which repetitions tell how the person moves: those that some shape fits as well as is usual in the set. */
function tellingFits(fits: readonly (ShapeFits | null)[]): (fit: ShapeFits) => boolean {
  const usual = median(fits.flatMap((fit) => fit?.residualSdDeg ?? [])) ?? 0;
  return ({ residualSdDeg }) => residualSdDeg <= MOST_STRAYING * usual;
}

/** What is the same for all repetitions of a set. */
export interface SetContext {
  readonly setTurns: SetTurns;
  readonly settings: ExerciseSettings;
  readonly thresholds: Thresholds;
  /** Centimetres of one upper-arm length, or null without stature. */
  readonly upperArmCm: number | null;
}

/**
 * Judges one repetition of a set, or null when its movement shows that it is none: the person walked, or it was a
 * quick change of grip.
 */
export function judgeRepetition(
  frames: readonly KinematicFrame[],
  samples: readonly FlexionSample[],
  turns: RepetitionTurns,
  fit: PhaseFit,
  set: SetContext,
): Repetition | null {
  const { setTurns, settings, thresholds, upperArmCm } = set;
  const span = { startSeconds: fit.bendingStartSeconds, endSeconds: fit.loweringEndSeconds };
  const movingSeconds =
    fit.topStartSeconds - fit.bendingStartSeconds + (fit.loweringEndSeconds - fit.loweringStartSeconds);
  if (turns.partial && movingSeconds < thresholds.shortestRepetitionSeconds) return null;
  if (hasWalked(framesWithin(frames, span), settings, thresholds)) return null;
  const context = { exercise: settings.exercise, thresholds, setTurns, upperArmCm };
  const measures = measureRepetition(frames, samples, turns, fit, context);
  return { ...measures.repetition, flags: repetitionFlags(measures, settings, setTurns, thresholds) };
}

/** Feet that leave their place; where they are not seen, hips, but not when the exercise itself moves them. */
function hasWalked(
  frames: readonly KinematicFrame[],
  settings: ExerciseSettings,
  thresholds: Thresholds,
): boolean {
  const ankle = ({ body }: KinematicFrame): PlanePoint | null => body.ankle;
  const hip = ({ body }: KinematicFrame): PlanePoint | null => body.midHip;
  const parts = settings.exercise === 'body-curl' ? [ankle] : [ankle, hip];
  for (const part of parts) {
    const edge = frames.slice(0, Math.max(1, Math.ceil(frames.length / 10)));
    const moved = largestOver(frames, distanceFrom(placeOver(edge, part), part, 'legs-not-seen')).measured;
    if (isMeasured(moved)) return moved.value > thresholds.walkingUpperArms;
  }
  return false;
}
