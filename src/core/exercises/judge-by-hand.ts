import type { KinematicSeries } from '../kinematics/kinematic-frame.ts';
import type { ExerciseSettings } from './exercise.ts';
import { traceOf, type FlexionSample } from './flexion-trace.ts';
import { INITIAL_HOLD_RUNS, runsSoFar, secondsOf, stepHoldRuns } from './hold-runs.ts';
import { judgeHold } from './judge-hold.ts';
import { measureRepetition } from './judge-repetition.ts';
import { readRepetitions, type SetReading } from './judge-set.ts';
import type { Hold, Repetition, SetJudgement, Span } from './judgement.ts';
import { MOST_BINS, settlePhases, type PhaseFit } from './phase-fit.ts';
import { repetitionFlags } from './repetition-flags.ts';
import { fitRepetition } from './repetition-phases.ts';
import type { RepetitionTurns } from './repetition-turns.ts';
import type { Thresholds } from './thresholds.ts';
import type { TurningPoint } from './turning-points.ts';

/** A part of a set in which a person sees one hold or one repetition. */
export interface AskedPart extends Span {
  /** The start, the end: as set (true), or found by the program within the part (false). */
  readonly keepsStart: boolean;
  readonly keepsEnd: boolean;
}

/**
 * Judges parts of a set in which a person sees a hold or a repetition, one each, by the same rules and thresholds as the
 * rest of the set; that somebody walked, or that a movement is small or quick, is no objection here. Null when something
 * of it cannot be measured: too little was seen, or the elbow neither bends nor lowers.
 */
export function judgeByHand(
  series: KinematicSeries,
  settings: ExerciseSettings,
  thresholds: Thresholds,
  parts: readonly AskedPart[],
): SetJudgement | null {
  const samples = traceOf(series.frames, thresholds.speedWindowSeconds);
  if (settings.exercise === 'hold') {
    const holds = parts.flatMap((part) => holdWithin(series, samples, thresholds, part) ?? []);
    return holds.length === parts.length ? { holds, repetitions: [] } : null;
  }
  const reading = readRepetitions(samples, thresholds);
  const repetitions = parts.flatMap(
    (part) => repetitionWithin(series, samples, settings, thresholds, reading, part) ?? [],
  );
  return repetitions.length === parts.length ? { holds: [], repetitions } : null;
}

/** The time in the target range within a part, as one hold. */
function holdWithin(
  { frames }: KinematicSeries,
  samples: readonly FlexionSample[],
  thresholds: Thresholds,
  part: Span,
): Hold | null {
  const state = samples.reduce((before, one) => stepHoldRuns(before, one, thresholds), INITIAL_HOLD_RUNS);
  const runs = runsSoFar(state, thresholds).flatMap(({ spans, leftBy }) => {
    const within = spans.flatMap(({ startSeconds, endSeconds }) => {
      const clipped = {
        startSeconds: Math.max(startSeconds, part.startSeconds),
        endSeconds: Math.min(endSeconds, part.endSeconds),
      };
      return clipped.startSeconds < clipped.endSeconds ? [clipped] : [];
    });
    const isCut = (spans.at(-1)?.endSeconds ?? 0) > part.endSeconds;
    return within.length === 0 ? [] : [{ spans: within, leftBy: isCut ? null : leftBy }];
  });
  return secondsOf(runs.flatMap(({ spans }) => spans)) > 0 ? judgeHold(frames, runs, thresholds) : null;
}

function repetitionWithin(
  series: KinematicSeries,
  samples: readonly FlexionSample[],
  settings: ExerciseSettings,
  thresholds: Thresholds,
  { setTurns, evidence, misreading }: SetReading,
  part: AskedPart,
): Repetition | null {
  const turns = turnsWithin(samples, part);
  const shapes = turns && fitRepetition(samples, turns, MOST_BINS.record);
  const fit = shapes && withEnds(settlePhases(shapes, evidence, misreading), part);
  if (!turns || !fit) return null;
  const rangeDeg = fit.topDeg - fit.startDeg;
  const { askedStartDeg, askedTopDeg } = setTurns;
  const askedDeg = askedStartDeg === null || askedTopDeg === null ? rangeDeg : askedTopDeg - askedStartDeg;
  const judged = { ...turns, rangeDeg, partial: rangeDeg < thresholds.partialShare * askedDeg };
  const context = {
    exercise: settings.exercise,
    thresholds,
    setTurns,
    upperArmCm: series.view.upperArmCm,
  };
  const measures = measureRepetition(series.frames, samples, judged, fit, context);
  return { ...measures.repetition, flags: repetitionFlags(measures, settings, setTurns, thresholds) };
}

/** The most bent moment of a part, and the straightest before and after it. Null where there is nothing on either side. */
function turnsWithin(samples: readonly FlexionSample[], part: Span): RepetitionTurns | null {
  const inside = samples.filter(
    ({ timeSeconds }) => timeSeconds >= part.startSeconds && timeSeconds <= part.endSeconds,
  );
  const most = inside.reduce<FlexionSample | null>(
    (best, one) => (best === null || one.smoothDeg > best.smoothDeg ? one : best),
    null,
  );
  if (most === null) return null;
  const start = straightest(inside.filter(({ timeSeconds }) => timeSeconds < most.timeSeconds));
  const end = straightest(inside.filter(({ timeSeconds }) => timeSeconds > most.timeSeconds));
  if (start === null || end === null) return null;
  return {
    start: turnAt(start, 'bottom'),
    top: turnAt(most, 'top'),
    end: turnAt(end, 'bottom'),
    topBefore: null,
    topAfter: null,
    stretch: {
      ...part,
      points: [],
      highest: turnAt(most, 'top'),
      lowest: turnAt(start, 'bottom'),
      way: null,
    },
    rangeDeg: most.smoothDeg - start.smoothDeg,
    partial: false,
  };
}

function straightest(samples: readonly FlexionSample[]): FlexionSample | null {
  return samples.reduce<FlexionSample | null>(
    (best, one) => (best === null || one.smoothDeg < best.smoothDeg ? one : best),
    null,
  );
}

function turnAt(
  { timeSeconds, smoothDeg, speedDegPerS, gapBeforeSeconds }: FlexionSample,
  kind: TurningPoint['kind'],
): TurningPoint {
  const gapSeconds = Number.isFinite(gapBeforeSeconds) ? gapBeforeSeconds : 0;
  return {
    kind,
    timeSeconds,
    flexionDeg: smoothDeg,
    speedDegPerS: speedDegPerS ?? 0,
    open: false,
    gapSeconds,
  };
}

/** The phases with the ends that were set. Null when bending or lowering would have no time left. */
function withEnds(fit: PhaseFit, part: AskedPart): PhaseFit | null {
  const within = (seconds: number): number => Math.min(part.endSeconds, Math.max(part.startSeconds, seconds));
  const ends = {
    bendingStartSeconds: part.keepsStart ? part.startSeconds : within(fit.bendingStartSeconds),
    topStartSeconds: within(fit.topStartSeconds),
    loweringStartSeconds: within(fit.loweringStartSeconds),
    loweringEndSeconds: part.keepsEnd ? part.endSeconds : within(fit.loweringEndSeconds),
  };
  const isWhole =
    ends.bendingStartSeconds < ends.topStartSeconds && ends.loweringStartSeconds < ends.loweringEndSeconds;
  return isWhole ? { ...fit, ...ends } : null;
}
