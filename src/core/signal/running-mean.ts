/**
 * Share of the new value in an exponential running mean, 0 to 1, after a step of so many seconds: the same for every
 * picture rate. meanSeconds above 0 is the mean's time constant.
 */
export function runningShare(stepSeconds: number, meanSeconds: number): number {
  return 1 - Math.exp(-Math.max(0, stepSeconds) / meanSeconds);
}
