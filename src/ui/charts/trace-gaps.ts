/** A value at a time with its 95 % interval; nulls where it was not measured. Value, low and high share one unit. */
export interface TracePoint {
  readonly timeSeconds: number;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** Two neighbours further apart than this are not joined: the same bound as in the recorded series (docs/measuring.md). */
export const GAP_SECONDS = 0.25;

/** A point that was measured. */
export interface DrawnPoint {
  readonly timeSeconds: number;
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Cuts points into the runs that may be drawn as one line: a run ends at a value that was not measured and where
 * time jumps by more than a quarter of a second. Points come in order of time. A missing interval becomes the value.
 */
export function unbrokenRuns(points: readonly TracePoint[]): DrawnPoint[][] {
  const runs: DrawnPoint[][] = [];
  let run: DrawnPoint[] = [];
  for (const { timeSeconds, value, low, high } of points) {
    const last = run.at(-1);
    const broken = value === null || (last !== undefined && timeSeconds - last.timeSeconds > GAP_SECONDS);
    if (broken && run.length > 0) {
      runs.push(run);
      run = [];
    }
    if (value !== null) run.push({ timeSeconds, value, low: low ?? value, high: high ?? value });
  }
  if (run.length > 0) runs.push(run);
  return runs;
}
