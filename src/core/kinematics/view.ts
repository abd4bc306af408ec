import { interpolateTable, median, quantile } from '../math/statistics.ts';
import type { AngleMethod } from './kinematic-frame.ts';

/** Beyond this yaw, degrees, angles are refused: half the sets at 60 deg were off by more than ten. */
export const OBLIQUE_LIMIT_DEG = 50;

/** Below this yaw, degrees, the picture is taken as it is: the stretch would change an angle by under half a degree. */
const LEAST_STRETCHED_DEG = 8;

/** Scatter of the estimated yaw about the true one, one standard deviation, degrees, and the yaws it stands at. */
const YAW_SD_DEG = { yaw: [0, 15, 30, 45, 60], sd: [4, 5, 6, 8, 11] };

/** How the camera looks at the arm's plane, as geometry needs it. */
export interface View {
  /** Signed, positive when the front shows; null when it could not be had, then taken as square. */
  readonly yawDeg: number | null;
  /** The turn that is taken out of the picture, degrees; 0 near a square view. */
  readonly stretchYawDeg: number;
  readonly yawSdDeg: number;
  readonly method: AngleMethod;
  readonly tooOblique: boolean;
}

/** The view for an estimated yaw, degrees, or null when there is none. */
export function viewAt(yawDeg: number | null): View {
  const turn = Math.abs(yawDeg ?? 0);
  const stretched = turn >= LEAST_STRETCHED_DEG && turn <= OBLIQUE_LIMIT_DEG;
  return {
    yawDeg,
    stretchYawDeg: stretched ? (yawDeg ?? 0) : 0,
    yawSdDeg: yawDeg === null ? 15 : interpolateTable(YAW_SD_DEG.yaw, YAW_SD_DEG.sd, turn),
    method: stretched ? 'turned-image-plane' : 'image-plane',
    tooOblique: turn > OBLIQUE_LIMIT_DEG,
  };
}

/** A yaw estimate of one picture, degrees, at its time; null where there is none. */
export interface TimedYaw {
  readonly timeSeconds: number;
  readonly yawDeg: number | null;
}

/** Half the window over which a picture's own view is judged, seconds. */
const LOCAL_HALF_WINDOW_SECONDS = 1;

/**
 * Running median of the yaw about each picture, degrees; null where the window holds none. A single picture's yaw
 * scatters too much to refuse it by.
 */
export function localYaws(yaws: readonly TimedYaw[]): (number | null)[] {
  let from = 0;
  let to = 0;
  return yaws.map(({ timeSeconds }) => {
    while (from < yaws.length && (yaws[from]?.timeSeconds ?? 0) < timeSeconds - LOCAL_HALF_WINDOW_SECONDS)
      from++;
    while (to < yaws.length && (yaws[to]?.timeSeconds ?? 0) <= timeSeconds + LOCAL_HALF_WINDOW_SECONDS) to++;
    return median(yaws.slice(from, to).flatMap(({ yawDeg }) => (yawDeg === null ? [] : [yawDeg])));
  });
}

/**
 * The yaw of a set: the median over the pictures that are not too oblique, so that walking in or turning round
 * afterwards does not bend it; over all of them when every picture is too oblique. Null when none has a yaw.
 */
export function setYawDeg(local: readonly (number | null)[]): number | null {
  const known = local.filter((yaw) => yaw !== null);
  const usable = known.filter((yaw) => Math.abs(yaw) <= OBLIQUE_LIMIT_DEG);
  return quantile(usable.length > 0 ? usable : known, 0.5);
}
