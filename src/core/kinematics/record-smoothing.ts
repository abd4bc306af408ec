import { zeroLagSeries } from '../signal/zero-lag-series.ts';
import { NO_PLACES, TRACKED_POINTS, type TrackedPlaces, type TrackedPoint } from './tracked-points.ts';

/** Zero-lag low-pass of every point's own series; a point that is null in a picture stays null in it. */
export function smoothRecord(
  timesSeconds: readonly number[],
  places: readonly TrackedPlaces[],
  rateHz: number,
): TrackedPlaces[] {
  const smoothed: Record<TrackedPoint, TrackedPlaces[TrackedPoint]>[] = places.map(() => ({ ...NO_PLACES }));
  for (const point of TRACKED_POINTS) {
    const axis = (of: 'forward' | 'up'): (number | null)[] =>
      zeroLagSeries(
        places.map((frame, i) => ({ timeSeconds: timesSeconds[i] ?? 0, value: frame[point]?.[of] ?? null })),
        rateHz,
      );
    const forward = axis('forward');
    const up = axis('up');
    smoothed.forEach((frame, i) => {
      const [f, u] = [forward[i] ?? null, up[i] ?? null];
      if (f !== null && u !== null) frame[point] = { forward: f, up: u };
    });
  }
  return smoothed;
}
