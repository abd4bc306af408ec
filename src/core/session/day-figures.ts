import type { Hold, Repetition } from '../exercises/judgement.ts';
import { valueOf } from '../kinematics/measured.ts';
import { weightedMean } from '../math/statistics.ts';
import type { MeasuredDone } from '../plan/training-day.ts';
import type { SetFindings } from './session-record.ts';

/**
 * What a training day keeps of a measured set. Means over repetitions run over the full ones; where there is none, over
 * all. Null where it was not measured or has no meaning for the exercise.
 * @param elbowImpulseNms - elbow moment times time from the set's loads, newton metre seconds; null where no load is known
 */
export function measuredDoneOf(
  { judgement, measuredTime }: Pick<SetFindings, 'judgement' | 'measuredTime'>,
  exercise: 'hold' | 'repetitions',
  elbowImpulseNms: MeasuredDone['elbowImpulseNms'] = null,
): MeasuredDone {
  // Nothing seen is not nothing done.
  if (!measuredTime.share) return { ...NOTHING_MEASURED, elbowImpulseNms };
  return {
    ...(exercise === 'hold' ? ofHolds(judgement.holds) : ofRepetitions(judgement.repetitions)),
    elbowImpulseNms,
  };
}

type WithoutImpulse = Omit<MeasuredDone, 'elbowImpulseNms'>;

const NOTHING_MEASURED: WithoutImpulse = {
  heldSeconds: null,
  meanHoldDeg: null,
  inRangeShare: null,
  handRoseUpperArms: null,
  repetitions: null,
  partialRepetitions: null,
  shoulderDominant: null,
  judgedRepetitions: null,
  loweringSeconds: null,
  rangeDeg: null,
  shoulderShare: null,
  timeUnderTensionSeconds: null,
};

function ofHolds(holds: readonly Hold[]): WithoutImpulse {
  const heldSeconds = sum(holds.map(({ inRangeSeconds }) => inRangeSeconds));
  const rises = holds.flatMap(({ handRiseUpperArms }) => valueOf(handRiseUpperArms) ?? []);
  return {
    ...NOTHING_MEASURED,
    heldSeconds,
    meanHoldDeg: weightedMean(
      holds.flatMap(({ meanFlexionDeg, inRangeSeconds: weight }) => {
        const value = valueOf(meanFlexionDeg);
        return value === null ? [] : [{ value, weight }];
      }),
    ),
    inRangeShare: weightedMean(
      holds.map(({ inRangeShare: value, inRangeSeconds: weight }) => ({ value, weight })),
    ),
    handRoseUpperArms: rises.length === 0 ? null : Math.max(...rises),
    timeUnderTensionSeconds: heldSeconds,
  };
}

function ofRepetitions(all: readonly Repetition[]): WithoutImpulse {
  const full = all.filter(({ partial }) => !partial);
  const counted = full.length > 0 ? full : all;
  const judged = full.filter(({ shoulderDominant }) => shoulderDominant !== null);
  return {
    ...NOTHING_MEASURED,
    repetitions: full.length,
    partialRepetitions: all.length - full.length,
    shoulderDominant: judged.filter(({ shoulderDominant }) => shoulderDominant === true).length,
    judgedRepetitions: judged.length,
    loweringSeconds: mean(counted.map(({ loweringSeconds }) => loweringSeconds)),
    rangeDeg: mean(counted.flatMap(({ rangeDeg }) => valueOf(rangeDeg) ?? [])),
    shoulderShare: mean(counted.flatMap(({ row }) => (row ? (valueOf(row.shoulderShare) ?? []) : []))),
    timeUnderTensionSeconds: sum(
      all.map(
        ({ shorteningSeconds, topSeconds, loweringSeconds }) =>
          shorteningSeconds + topSeconds + loweringSeconds,
      ),
    ),
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : sum(values) / values.length;
}
