/** Files round times to a millisecond: a picture that comes so little before its bin still belongs to it, seconds. */
export const TIME_TOLERANCE_SECONDS = 0.0005;

/**
 * Whether a picture is measured where fewer than all are wanted. Time is cut into bins of 1/rateHz seconds from media
 * time 0, and the first picture of each bin is measured. So which pictures of a clip are measured depends on their own
 * times only, never on the machine's speed, and no bin is measured twice. lastMeasuredSeconds is the time of the picture
 * measured last, null before the first; rateHz above 0, or null to measure every picture.
 */
export function isToBeMeasured(
  timeSeconds: number,
  lastMeasuredSeconds: number | null,
  rateHz: number | null,
): boolean {
  if (rateHz === null || lastMeasuredSeconds === null) return true;
  return binOf(timeSeconds, rateHz) !== binOf(lastMeasuredSeconds, rateHz);
}

/** The bin of a time, numbered from media time 0; rateHz above 0. */
export function binOf(timeSeconds: number, rateHz: number): number {
  return Math.floor((timeSeconds + TIME_TOLERANCE_SECONDS) * rateHz);
}

/** A live picture may come so much of a step too early and is measured all the same: cameras' times scatter. */
const EARLY_SHARE = 0.15;

/**
 * Whether a live picture is measured where at most one in stepSeconds is wanted; 0 for every one. The time since the
 * last one decides: by bins, a camera whose steps fit the bins would be measured now after one step and now after three.
 */
export function isDue(timeSeconds: number, lastMeasuredSeconds: number | null, stepSeconds: number): boolean {
  return lastMeasuredSeconds === null || timeSeconds - lastMeasuredSeconds >= stepSeconds * (1 - EARLY_SHARE);
}

/** Longest time between two live pictures that are measured at no more than rateHz of a steady sourceHz, seconds. */
export function liveStepSeconds(rateHz: number, sourceHz: number): number {
  return Math.max(1, Math.ceil((sourceHz / rateHz) * (1 - EARLY_SHARE))) / sourceHz;
}
