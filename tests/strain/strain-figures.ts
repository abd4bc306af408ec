import { judgeSet } from '../../src/core/exercises/judge-set.ts';
import { initialLiveJudge, stepLiveJudge, type LiveJudge } from '../../src/core/exercises/live-judge.ts';
import { DEFAULT_THRESHOLDS } from '../../src/core/exercises/thresholds.ts';
import type { KinematicSeries } from '../../src/core/kinematics/kinematic-frame.ts';
import { traceSeries } from '../helpers/kinematic-traces.ts';
import { seededRandom } from '../helpers/seeded-random.ts';
import type { StrainSet } from './strain-sets.ts';

/** Goals of the times, seconds. Live runs a third of a second behind and may differ by that. */
const MOST_LOWERING_ERROR_SECONDS = 0.15;
const MOST_HOLD_ERROR_SECONDS = 0.3;
const MOST_LIVE_ERROR_SECONDS = 0.4;

/** What one set says; null where it has nothing of the kind. */
export interface StrainFigures {
  readonly kind: StrainSet['kind'];
  readonly isMinimumJerk: boolean;
  /** Full ones and partial ones are as many as there are, each in its place. */
  readonly repetitionsExact: boolean | null;
  /** The partial ones are those that are; null where none is. */
  readonly partialsExact: boolean | null;
  /** One for each repetition, where their number is right. */
  readonly bendingErrorsSeconds: readonly number[];
  readonly loweringErrorsSeconds: readonly number[];
  readonly holdErrorSeconds: number | null;
  /** Counts, or the hold's clock, at the set's end are those of the record. */
  readonly liveAgrees: boolean;
}

/** Whether a lowering or bending time, or a hold's, is as near the truth as asked. */
export const isTimeKept = (errorSeconds: number): boolean =>
  Math.abs(errorSeconds) <= MOST_LOWERING_ERROR_SECONDS;
export const isHoldKept = (errorSeconds: number): boolean =>
  Math.abs(errorSeconds) <= MOST_HOLD_ERROR_SECONDS;

/** Measured frames of a strained set, seeded. */
function framesOf(set: StrainSet, seed: number): KinematicSeries {
  const series = traceSeries({ ...set, pointNoise: 0.02, seed });
  const luck = seededRandom(seed + 1);
  return { ...series, frames: series.frames.filter(() => luck() >= set.dropShare) };
}

/** A strained set through the judgement of the record and, picture by picture, through that of the live view. */
export function strainFigures(set: StrainSet, seed: number): StrainFigures {
  const series = framesOf(set, seed);
  const settings = { exercise: set.exercise, side: 'left', variant: null, statureCm: 170 } as const;
  const by = { settings, thresholds: DEFAULT_THRESHOLDS };
  const { repetitions, holds } = judgeSet(series, settings, DEFAULT_THRESHOLDS);
  const live = series.frames.reduce<LiveJudge>(
    (judge, frame) => stepLiveJudge(judge, frame, by).judge,
    initialLiveJudge(by),
  );
  const found = repetitions.map(({ partial }) => partial);
  const truth = set.repetitions.map(({ partial }) => partial);
  const isCountRight = found.length === truth.length;
  const pairs = isCountRight ? set.repetitions.map((one, i) => [one, repetitions[i]] as const) : [];
  const held = holds.reduce((sum, { inRangeSeconds }) => sum + inRangeSeconds, 0);
  const partials = found.filter((partial) => partial).length;
  return {
    kind: set.kind,
    isMinimumJerk: set.isMinimumJerk,
    repetitionsExact: set.exercise === 'hold' ? null : found.join() === truth.join(),
    partialsExact: truth.includes(true) ? isCountRight && found.join() === truth.join() : null,
    bendingErrorsSeconds: pairs.map(([one, own]) => (own?.shorteningSeconds ?? NaN) - one.bendingSeconds),
    loweringErrorsSeconds: pairs.map(([one, own]) => (own?.loweringSeconds ?? NaN) - one.loweringSeconds),
    holdErrorSeconds: set.holdSeconds === null ? null : held - set.holdSeconds,
    liveAgrees:
      set.exercise === 'hold'
        ? Math.abs(live.inRangeSeconds - held) <= MOST_LIVE_ERROR_SECONDS
        : live.repetitions === found.length - partials && live.partialRepetitions === partials,
  };
}
