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
