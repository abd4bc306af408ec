import { OneEuroFilter, type OneEuroSettings } from '../../signal/one-euro-filter.ts';
import type { PicturePoint } from '../person-detector.ts';
import { regionOfBody, type Region } from './region.ts';

/**
 * Heavy smoothing at rest, none to speak of in movement: speeds are in regions a second.
 * Source: BLAZEPOSE_LANDMARKS_SMOOTHING_CONFIG_AUXILIARY, pose-detection 2.1.3. The library's runtime does this even where
 * the smoothing of landmarks is off, as its output shows from the third picture on.
 */
const STEADINESS: OneEuroSettings = {
  minCutoffHz: 0.01,
  beta: 10,
  derivativeCutoffHz: 1,
  speedFrom: 'raw',
};

/** Below this body diameter nothing is smoothed, pixels. Source: minAllowedObjectScale of the same constants. */
const LEAST_DIAMETER_PX = 1e-6;

/** One filter for each number of the two points. */
interface Filters {
  readonly centreX: OneEuroFilter;
  readonly centreY: OneEuroFilter;
  readonly onCircleX: OneEuroFilter;
  readonly onCircleY: OneEuroFilter;
}

/**
 * Where to look for the body in the next picture, held steady: a region that trembles makes the landmarks of a body at
 * rest tremble too.
 */
export class SteadyRegion {
  #filters: Filters = fresh();

  /** Takes the body's two points in a picture and gives the region for the next; null for a body without size. */
  next(centre: PicturePoint, onCircle: PicturePoint, timeSeconds: number): Region | null {
    const diameterPx = 2 * Math.hypot(onCircle.x - centre.x, onCircle.y - centre.y);
    if (!(diameterPx > LEAST_DIAMETER_PX)) return regionOfBody(centre, onCircle);
    const { centreX, centreY, onCircleX, onCircleY } = this.#filters;
    return regionOfBody(
      {
        x: centreX.apply(centre.x, timeSeconds, diameterPx),
        y: centreY.apply(centre.y, timeSeconds, diameterPx),
      },
      {
        x: onCircleX.apply(onCircle.x, timeSeconds, diameterPx),
        y: onCircleY.apply(onCircle.y, timeSeconds, diameterPx),
      },
    );
  }

  /** The next body is taken as it is. */
  forget(): void {
    this.#filters = fresh();
  }
}

function fresh(): Filters {
  return {
    centreX: new OneEuroFilter(STEADINESS),
    centreY: new OneEuroFilter(STEADINESS),
    onCircleX: new OneEuroFilter(STEADINESS),
    onCircleY: new OneEuroFilter(STEADINESS),
  };
}
