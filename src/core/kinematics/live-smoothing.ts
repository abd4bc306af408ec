import { OneEuroFilter, type OneEuroSettings } from '../signal/one-euro-filter.ts';
import { NO_PLACES, TRACKED_POINTS, type TrackedPlaces, type TrackedPoint } from './tracked-points.ts';

/**
 * For places in trunk lengths, so that the same numbers hold for every picture size and distance. At rest 1.5 Hz;
 * a hand at half a trunk length a second, a usual curl, is followed at about 4 Hz.
 */
const LIVE_FILTER: OneEuroSettings = { minCutoffHz: 1.5, beta: 5, derivativeCutoffHz: 1 };

/** A point that was away for longer is taken up afresh, seconds. */
const LONGEST_PAUSE_SECONDS = 0.25;

interface PointFilter {
  readonly forward: OneEuroFilter;
  readonly up: OneEuroFilter;
  lastSeconds: number;
}

/** Speed-adaptive smoothing of the tracked points, causal, in trunk lengths. */
export class LiveSmoothing {
  readonly #filters = new Map<TrackedPoint, PointFilter>();

  /** Smooths the points of the next picture. trunkPx above 0 is the slow mean of the trunk's length in the picture. */
  step(places: TrackedPlaces, timeSeconds: number, trunkPx: number): TrackedPlaces {
    const smoothed: Record<TrackedPoint, TrackedPlaces[TrackedPoint]> = { ...NO_PLACES };
    for (const point of TRACKED_POINTS) {
      const place = places[point];
      if (place === null) continue;
      const filter = this.#filterOf(point);
      if (timeSeconds - filter.lastSeconds > LONGEST_PAUSE_SECONDS) {
        filter.forward.reset();
        filter.up.reset();
      }
      filter.lastSeconds = timeSeconds;
      smoothed[point] = {
        forward: filter.forward.apply(place.forward / trunkPx, timeSeconds) * trunkPx,
        up: filter.up.apply(place.up / trunkPx, timeSeconds) * trunkPx,
      };
    }
    return smoothed;
  }

  /** Forgets everything, as after a change of source or person. */
  reset(): void {
    this.#filters.clear();
  }

  #filterOf(point: TrackedPoint): PointFilter {
    const known = this.#filters.get(point);
    if (known) return known;
    const fresh = {
      forward: new OneEuroFilter(LIVE_FILTER),
      up: new OneEuroFilter(LIVE_FILTER),
      lastSeconds: -Infinity,
    };
    this.#filters.set(point, fresh);
    return fresh;
  }
}
