import { firstAtOrAfter } from '../signal/first-at-or-after.ts';
import type { FlexionSample } from './flexion-trace.ts';

/** Speed must fall and rise again by this share of the mean speed between two peaks; less is unevenness of any arm. */
const PROMINENCE_SHARE = 0.5;
const FEWEST_SAMPLES = 6;

/**
 * Number of speed peaks in a lowering: 1 is one smooth movement (Rohrer et al. 2002 count peaks as a measure of
 * smoothness). Samples are in order of time. Null with fewer than six samples of speed.
 */
export function speedPeaks(
  samples: readonly FlexionSample[],
  startSeconds: number,
  endSeconds: number,
): number | null {
  const speeds: number[] = [];
  for (let i = firstAtOrAfter(samples, startSeconds); i < samples.length; i++) {
    const sample = samples[i];
    if (sample === undefined || sample.timeSeconds > endSeconds) break;
    if (sample.speedDegPerS !== null) speeds.push(-sample.speedDegPerS);
  }
  if (speeds.length < FEWEST_SAMPLES) return null;
  const mean = speeds.reduce((sum, speed) => sum + speed, 0) / speeds.length;
  const least = PROMINENCE_SHARE * Math.abs(mean);
  let peaks = 0;
  let rising = true;
  let extreme = -Infinity;
  for (const speed of speeds) {
    if (rising) {
      extreme = Math.max(extreme, speed);
      if (extreme - speed >= least) {
        peaks++;
        rising = false;
        extreme = speed;
      }
    } else {
      extreme = Math.min(extreme, speed);
      if (speed - extreme >= least) {
        rising = true;
        extreme = speed;
      }
    }
  }
  return rising ? peaks + 1 : Math.max(1, peaks);
}
