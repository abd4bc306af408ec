import { isMeasured, valueOf } from '../kinematics/measured.ts';
import type { ExerciseSettings } from './exercise.ts';
import type { Flag, FlagKind, Repetition } from './judgement.ts';
import type { RepetitionMeasures } from './judge-repetition.ts';
import type { SetTurns } from './repetition-turns.ts';
import { rowSigns } from './row-rule.ts';
import type { Thresholds } from './thresholds.ts';

/** The flags of a repetition, each with the phase in which it shows and the moments to look at. */
export function repetitionFlags(
  measures: RepetitionMeasures,
  settings: ExerciseSettings,
  setTurns: SetTurns,
  thresholds: Thresholds,
): Flag[] {
  const { repetition } = measures;
  const kinds =
    settings.exercise === 'body-curl'
      ? bodyCurlFlags(measures, thresholds)
      : freeArmFlags(repetition, settings, thresholds);
  if (isLoweringFast(repetition, setTurns, thresholds)) kinds.push(loweringFlag(repetition));
  return kinds;
}

type Measures = Omit<Repetition, 'flags'>;

function flagOver(
  kind: FlagKind,
  startSeconds: number,
  endSeconds: number,
  evidence: readonly (number | null)[],
): Flag {
  return { kind, startSeconds, endSeconds, evidenceSeconds: evidence.filter((at) => at !== null) };
}

function whole(kind: FlagKind, repetition: Measures, evidence: readonly (number | null)[]): Flag {
  return flagOver(kind, repetition.startSeconds, repetition.endSeconds, evidence);
}

function bodyCurlFlags(
  { repetition, elbowFurthestBackSeconds, kneesGiveWay }: RepetitionMeasures,
  thresholds: Thresholds,
): Flag[] {
  const { row, startSeconds, topStartSeconds } = repetition;
  const flags: Flag[] = [];
  const middle = (startSeconds + topStartSeconds) / 2;
  const bending = (kind: FlagKind, evidence: readonly (number | null)[]): void => {
    flags.push(flagOver(kind, startSeconds, topStartSeconds, evidence));
  };
  if (repetition.shoulderDominant === true) {
    bending('shoulder-dominant', [middle, elbowFurthestBackSeconds, topStartSeconds]);
  }
  if (row) {
    const above = (value: number | null, limit: number): boolean => value !== null && value >= limit;
    if (rowSigns(row, thresholds).elbowBehindTrunk) {
      bending('elbow-behind-trunk', [elbowFurthestBackSeconds]);
    }
    if (above(valueOf(row.upperArmForwardDeg), thresholds.upperArmForwardDeg)) {
      bending('upper-arm-forward', [topStartSeconds]);
    }
    if (above(valueOf(row.hipSagDeg), thresholds.hipSagDeg) && !kneesGiveWay) {
      flags.push(whole('hip-sag', repetition, [topStartSeconds]));
    }
    if (above(valueOf(row.handSlipUpperArms), thresholds.handSlipUpperArms)) {
      flags.push(whole('hand-slip', repetition, [topStartSeconds]));
    }
  }
  if (repetition.usesMiddle === false) {
    flags.push(whole('range-middle-missing', repetition, [startSeconds, topStartSeconds]));
  }
  if (repetition.usesBentEnd === false) {
    flags.push(whole('range-bent-end-missing', repetition, [topStartSeconds]));
  }
  return flags;
}

function freeArmFlags(repetition: Measures, settings: ExerciseSettings, thresholds: Thresholds): Flag[] {
  const flags: Flag[] = [];
  const top = [repetition.topStartSeconds];
  const upperArm = valueOf(repetition.upperArmMovementDeg);
  const sway = valueOf(repetition.trunkSwayDeg);
  if (upperArm !== null && upperArm >= thresholds.upperArmMovementDeg) {
    flags.push(whole('upper-arm-moving', repetition, top));
  }
  if (sway !== null && sway >= thresholds.trunkSwayDeg) flags.push(whole('trunk-sway', repetition, top));
  const { forearmRotationMeanDeg: mean, forearmRotationRangeDeg: range } = repetition;
  if (settings.variant === 'supinated' && isMeasured(mean) && mean.value < thresholds.supinatedAtLeastDeg) {
    flags.push(whole('forearm-not-supinated', repetition, top));
  }
  if (settings.variant === 'turning' && isMeasured(range) && range.value < thresholds.turningAtLeastDeg) {
    flags.push(whole('forearm-not-turning', repetition, top));
  }
  return flags;
}

/** Faster than shortestLoweringSeconds over the asked range; a shorter range has proportionately less time. */
function isLoweringFast(repetition: Measures, setTurns: SetTurns, thresholds: Thresholds): boolean {
  const { askedStartDeg, askedTopDeg } = setTurns;
  const lowered = repetition.loweringSpeedDegPerS * repetition.loweringSeconds;
  const asked = askedStartDeg === null || askedTopDeg === null ? lowered : askedTopDeg - askedStartDeg;
  const share = asked > 0 ? Math.min(1, lowered / asked) : 1;
  return repetition.loweringSeconds < thresholds.shortestLoweringSeconds * share;
}

function loweringFlag(repetition: Measures): Flag {
  const { loweringStartSeconds, endSeconds } = repetition;
  return flagOver('lowering-fast', loweringStartSeconds, endSeconds, [
    (loweringStartSeconds + endSeconds) / 2,
  ]);
}
