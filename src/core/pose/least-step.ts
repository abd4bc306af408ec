/**
 * Pictures nearer in time than this to the one before are dropped, seconds: a picture given twice or a fault of the
 * file. No camera is that fast, and records keep times to a tenth of it.
 */
export const LEAST_STEP_SECONDS = 0.001;
