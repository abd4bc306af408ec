import type { KinematicSeries } from '../kinematics/kinematic-frame.ts';
import { isMeasured, type NotMeasuredReason } from '../kinematics/measured.ts';
import { longestBridgedStep, measuredRateHz } from '../signal/resample.ts';
import type { Pause } from './cue-log.ts';
import type { MeasuredTime, SetFindings } from './session-record.ts';

/** Rate assumed of a series too short to tell, hertz. */
const FALLBACK_RATE_HZ = 30;

/**
 * How much of a series' time has a measured elbow, and the rest by reason. A frame stands for the time until the next
 * one, unless that is a gap: then nobody looked, and the time counts as gap.
 */
export function measuredTimeOf({ frames }: KinematicSeries): MeasuredTime {
  const rateHz = measuredRateHz(frames.map(({ timeSeconds }) => timeSeconds)) ?? FALLBACK_RATE_HZ;
  const longestStep = longestBridgedStep(rateHz);
  const notMeasuredSeconds: Partial<Record<NotMeasuredReason, number>> = {};
  let totalSeconds = 0;
  let measuredSeconds = 0;
  for (const [index, next] of frames.slice(1).entries()) {
    const frame = frames[index];
    if (frame === undefined) continue;
    const seconds = next.timeSeconds - frame.timeSeconds;
    const reason = seconds > longestStep ? 'gap' : reasonOf(frame);
    totalSeconds += seconds;
    if (reason === null) measuredSeconds += seconds;
    else notMeasuredSeconds[reason] = (notMeasuredSeconds[reason] ?? 0) + seconds;
  }
  return {
    totalSeconds,
    share: totalSeconds > 0 ? Math.min(1, measuredSeconds / totalSeconds) : null,
    notMeasuredSeconds,
  };
}

/** Why the treated elbow was not measured in a frame, or null when it was. */
export function reasonOf(frame: KinematicSeries['frames'][number]): NotMeasuredReason | null {
  if (isMeasured(frame.elbowFlexionDeg)) return null;
  return frame.reason ?? frame.elbowFlexionDeg.notMeasured;
}

/**
 * The findings of a set without the time of its pauses. Frames alone show a pause as a gap; it is no time of the set, so
 * that it counts neither as measured nor as missing.
 */
export function withoutPauses(findings: SetFindings, pauses: readonly Pause[]): SetFindings {
  const { totalSeconds, notMeasuredSeconds } = findings.measuredTime;
  const { gap = 0, ...others } = notMeasuredSeconds;
  const paused = Math.min(gap, sum(pauses.map(({ startSeconds, endSeconds }) => endSeconds - startSeconds)));
  if (paused <= 0) return findings;
  const missing = sum(Object.values(others));
  const left = toMicroseconds(totalSeconds - paused);
  const gapLeft = toMicroseconds(gap - paused);
  const measuredTime: MeasuredTime = {
    totalSeconds: left,
    share: left > 0 ? toMicroseconds((left - gapLeft - missing) / left) : null,
    notMeasuredSeconds: gapLeft > 0 ? { ...others, gap: gapLeft } : others,
  };
  return { ...findings, measuredTime };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** As all findings are kept. */
function toMicroseconds(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}
