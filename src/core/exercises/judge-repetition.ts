import type { KinematicFrame, PlanePoint } from '../kinematics/kinematic-frame.ts';
import { estimate, isMeasured, notMeasured, valueOf, type Measured } from '../kinematics/measured.ts';
import { angleBetweenDeg, toDegrees } from '../math/angle.ts';
import type { Exercise } from './exercise.ts';
import type { FlexionSample } from './flexion-trace.ts';
import type { Repetition, Span } from './judgement.ts';
import type { PhaseFit } from './phase-fit.ts';
import { rowIndicators } from './row-indicators.ts';
import { isShoulderDominant } from './row-rule.ts';
import type { RepetitionTurns, SetTurns } from './repetition-turns.ts';
import {
  difference,
  distanceFrom,
  extentOver,
  framesWithin,
  largestOver,
  meanOver,
  placeOver,
} from './span-statistics.ts';
import { speedPeaks } from './speed-peaks.ts';
import type { Thresholds } from './thresholds.ts';

/** One repetition before its flags, and what the flags need besides. */
export interface RepetitionMeasures {
  readonly repetition: Omit<Repetition, 'flags'>;
  readonly elbowFurthestBackSeconds: number | null;
  /** The knees bend as much as the hips: the body is let down on its legs, which is no sagging. */
  readonly kneesGiveWay: boolean;
}

/** What is the same for all repetitions of a set. */
export interface RepetitionContext {
  readonly exercise: Exercise;
  readonly thresholds: Thresholds;
  readonly setTurns: SetTurns;
  /** Centimetres of one upper-arm length, or null without stature. */
  readonly upperArmCm: number | null;
}

/** Places at the start of a repetition are medians over this time before and after the onset of bending. */
const START_SECONDS = 0.2;
/** The middle part counts as passed when at most this share of the asked range is missing of it. */
const MIDDLE_TOLERANCE_SHARE = 0.1;

/** All measures of one repetition. Frames and samples are in order and hold at least the repetition. */
export function measureRepetition(
  frames: readonly KinematicFrame[],
  samples: readonly FlexionSample[],
  turns: RepetitionTurns,
  fit: PhaseFit,
  context: RepetitionContext,
): RepetitionMeasures {
  const whole: Span = { startSeconds: fit.bendingStartSeconds, endSeconds: fit.loweringEndSeconds };
  const inside = framesWithin(frames, whole);
  const atStart = framesWithin(frames, {
    startSeconds: whole.startSeconds - START_SECONDS,
    endSeconds: whole.startSeconds + START_SECONDS,
  });
  const startFlexionDeg = levelOf(fit.startDeg, turns.start.gapSeconds, inside);
  const topFlexionDeg = levelOf(fit.topDeg, turns.top.gapSeconds, inside);
  const loweringSeconds = fit.loweringEndSeconds - fit.loweringStartSeconds;
  const travel = largestOver(
    inside,
    distanceFrom(placeOver(atStart, midShoulder), midShoulder, 'trunk-not-seen'),
  ).measured;
  const row = context.exercise === 'body-curl' ? rowIndicators(frames, fit, context.thresholds) : null;
  return {
    elbowFurthestBackSeconds: row?.elbowFurthestBackSeconds ?? null,
    kneesGiveWay:
      row !== null &&
      (valueOf(extentOver(inside, kneeFlexion)) ?? 0) >= (valueOf(row.indicators.hipSagDeg) ?? Infinity),
    repetition: {
      ...whole,
      topStartSeconds: fit.topStartSeconds,
      loweringStartSeconds: fit.loweringStartSeconds,
      partial: turns.partial,
      shoulderDominant: row ? isShoulderDominant(row.indicators, context.thresholds) : null,
      startFlexionDeg,
      topFlexionDeg,
      rangeDeg: difference(topFlexionDeg, startFlexionDeg),
      shorteningSeconds: fit.topStartSeconds - fit.bendingStartSeconds,
      topSeconds: fit.loweringStartSeconds - fit.topStartSeconds,
      loweringSeconds,
      loweringSpeedDegPerS: Math.max(0, fit.topDeg - fit.endDeg) / loweringSeconds,
      loweringSpeedPeaks: speedPeaks(samples, fit.loweringStartSeconds, fit.loweringEndSeconds),
      torsoTravelCm: inCm(travel, context.upperArmCm, inside),
      torsoTravelUpperArms: travel,
      upperArmMovementDeg: extentOver(inside, (frame) => frame.shoulderFlexionDeg),
      trunkSwayDeg: extentOver(inside, trunkLean),
      forearmRotationRangeDeg: extentOver(inside, (frame) => frame.forearmRotationDeg),
      forearmRotationMeanDeg: meanOver(inside, (frame) => frame.forearmRotationDeg),
      ...partsOfRange(valueOf(startFlexionDeg), valueOf(topFlexionDeg), context),
      row: row?.indicators ?? null,
    },
  };
}

/** Bending of the knee, degrees, 0 straight; its interval plays no part. */
function kneeFlexion({ body, reason }: KinematicFrame): Measured {
  const { hip, knee, ankle } = body;
  if (!hip || !knee || !ankle) return notMeasured(reason ?? 'legs-not-seen');
  const thigh = { x: knee.forward - hip.forward, y: knee.up - hip.up };
  return estimate(angleBetweenDeg(thigh.x, thigh.y, ankle.forward - knee.forward, ankle.up - knee.up), 0);
}

function midShoulder({ body }: KinematicFrame): PlanePoint | null {
  return body.midShoulder;
}

/** A level of the fit with the interval of the frames; not measured where the turn lies in a gap. */
function levelOf(levelDeg: number, gapSeconds: number, frames: readonly KinematicFrame[]): Measured {
  if (gapSeconds > 0) return notMeasured('gap');
  const mean = meanOver(frames, (frame) => frame.elbowFlexionDeg);
  return isMeasured(mean) ? estimate(levelDeg, (mean.high - mean.low) / 2) : mean;
}

/** Travel in centimetres; its interval is the wider of the points' and of what the frames say of their own travel. */
function inCm(travel: Measured, upperArmCm: number | null, frames: readonly KinematicFrame[]): Measured {
  if (!isMeasured(travel)) return travel;
  if (upperArmCm === null) return notMeasured('no-stature');
  const furthest = largestOver(frames, (frame) => frame.torsoTravelCm).measured;
  const ofFrames = isMeasured(furthest) ? (furthest.high - furthest.low) / 2 : 0;
  return estimate(
    travel.value * upperArmCm,
    Math.max(((travel.high - travel.low) / 2) * upperArmCm, ofFrames),
  );
}

/**
 * Lean of the trunk with its sign, positive backward, so that swaying through the vertical is seen; the interval is
 * that of the unsigned inclination.
 */
function trunkLean(frame: KinematicFrame): Measured {
  const { trunkInclinationDeg } = frame;
  const { midShoulder: shoulder, midHip: hip } = frame.body;
  if (!isMeasured(trunkInclinationDeg) || !shoulder || !hip) return trunkInclinationDeg;
  const signed = toDegrees(Math.atan2(hip.forward - shoulder.forward, shoulder.up - hip.up));
  return estimate(signed, (trunkInclinationDeg.high - trunkInclinationDeg.low) / 2);
}

/** Whether the middle and the bent end of the asked range were passed; null without a range to compare with. */
function partsOfRange(
  startDeg: number | null,
  topDeg: number | null,
  { setTurns, thresholds }: RepetitionContext,
): { usesMiddle: boolean | null; usesBentEnd: boolean | null } {
  const { askedStartDeg, askedTopDeg } = setTurns;
  if (askedStartDeg === null || askedTopDeg === null || topDeg === null) {
    return { usesMiddle: null, usesBentEnd: null };
  }
  const range = askedTopDeg - askedStartDeg;
  const middleFrom = askedStartDeg + ((1 - thresholds.middleShare) / 2) * range;
  const middleTo = middleFrom + thresholds.middleShare * range;
  const slack = MIDDLE_TOLERANCE_SHARE * range;
  return {
    usesMiddle: startDeg === null ? null : startDeg <= middleFrom + slack && topDeg >= middleTo - slack,
    usesBentEnd: topDeg >= askedTopDeg - thresholds.bentEndShare * range,
  };
}
