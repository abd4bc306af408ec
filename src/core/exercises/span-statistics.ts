import type { KinematicFrame, PlanePoint } from '../kinematics/kinematic-frame.ts';
import {
  estimate,
  isMeasured,
  notMeasured,
  type Measured,
  type NotMeasuredReason,
} from '../kinematics/measured.ts';
import { median, quantile } from '../math/statistics.ts';
import { firstAtOrAfter } from '../signal/first-at-or-after.ts';
import type { Span } from './judgement.ts';

/** A quantity of a frame. */
export type Pick = (frame: KinematicFrame) => Measured;

/** A smoothed value with the half-width of its frames' intervals. */
export interface SmoothValue {
  readonly timeSeconds: number;
  readonly value: number;
  readonly halfWidth: number;
}

/** Less of a span than this share measured gives no statistic over it. */
const QUORUM = 0.5;
/** Extremes are taken of means over this time, so that one stray frame is none. */
const SMOOTH_SECONDS = 0.3;
/** Half-width of a 95 % interval in standard deviations of a normal distribution. */
const Z95 = 1.96;

/** The frames within a span, ends included. Frames are in order of time. */
export function framesWithin(frames: readonly KinematicFrame[], span: Span): readonly KinematicFrame[] {
  const from = firstAtOrAfter(frames, span.startSeconds - 1e-9);
  return frames.slice(from, firstAtOrAfter(frames, span.endSeconds + 1e-9));
}

/** The reason that most of the unmeasured frames name; "gap" where there are no frames at all. */
function commonReason(frames: readonly KinematicFrame[], pick: Pick): NotMeasuredReason {
  const counts = new Map<NotMeasuredReason, number>();
  for (const frame of frames) {
    const measured = pick(frame);
    if (!isMeasured(measured)) counts.set(measured.notMeasured, (counts.get(measured.notMeasured) ?? 0) + 1);
  }
  const [most] = [...counts].sort((a, b) => b[1] - a[1]);
  return most?.[0] ?? 'gap';
}

function measuredOf(frames: readonly KinematicFrame[], pick: Pick): SmoothValue[] {
  return frames.flatMap((frame) => {
    const m = pick(frame);
    return isMeasured(m)
      ? [{ timeSeconds: frame.timeSeconds, value: m.value, halfWidth: (m.high - m.low) / 2 }]
      : [];
  });
}

/** Values smoothed by a mean over 0.3 s; an empty list when fewer than half of the frames were measured. */
export function smoothedOver(frames: readonly KinematicFrame[], pick: Pick): readonly SmoothValue[] {
  const values = measuredOf(frames, pick);
  if (values.length === 0 || values.length < QUORUM * frames.length) return [];
  let first = 0;
  let past = 0;
  let sum = 0;
  return values.map((here) => {
    while (
      past < values.length &&
      (values[past]?.timeSeconds ?? 0) <= here.timeSeconds + SMOOTH_SECONDS / 2
    ) {
      sum += values[past]?.value ?? 0;
      past++;
    }
    while ((values[first]?.timeSeconds ?? Infinity) < here.timeSeconds - SMOOTH_SECONDS / 2) {
      sum -= values[first]?.value ?? 0;
      first++;
    }
    return { ...here, value: sum / (past - first) };
  });
}

/** Mean over frames with the mean half-width: what is wrong in one frame is mostly wrong alike in its neighbours. */
export function meanOver(frames: readonly KinematicFrame[], pick: Pick): Measured {
  const values = measuredOf(frames, pick);
  if (values.length === 0 || values.length < QUORUM * frames.length) {
    return notMeasured(commonReason(frames, pick));
  }
  const mean = values.reduce((sum, { value }) => sum + value, 0) / values.length;
  return estimate(mean, meanHalfWidth(values));
}

/** Largest minus smallest of the smoothed values (95th and 5th of a hundred), at least 0. */
export function extentOver(frames: readonly KinematicFrame[], pick: Pick): Measured {
  const values = smoothedOver(frames, pick);
  const numbers = values.map(({ value }) => value);
  const low = quantile(numbers, 0.05);
  const high = quantile(numbers, 0.95);
  if (low === null || high === null) return notMeasured(commonReason(frames, pick));
  return estimate(high - low, meanHalfWidth(values));
}

/** The largest smoothed value with its time, or the reason why there is none. */
export function largestOver(
  frames: readonly KinematicFrame[],
  pick: Pick,
): { readonly measured: Measured; readonly atSeconds: number | null } {
  const values = smoothedOver(frames, pick);
  const [first] = values;
  if (!first) return { measured: notMeasured(commonReason(frames, pick)), atSeconds: null };
  const largest = values.reduce((best, here) => (here.value > best.value ? here : best), first);
  return { measured: estimate(largest.value, largest.halfWidth), atSeconds: largest.timeSeconds };
}

/** The smallest smoothed value, by largestOver of what is picked, turned round. */
export function smallestOver(frames: readonly KinematicFrame[], pick: Pick): Measured {
  return mapMeasured(largestOver(frames, (frame) => mapMeasured(pick(frame), negate)).measured, negate);
}

function negate(value: number): number {
  return -value;
}

function meanHalfWidth(values: readonly SmoothValue[]): number {
  return values.reduce((sum, { halfWidth }) => sum + halfWidth, 0) / Math.max(1, values.length);
}

/** A measured value through a monotone function; the interval's ends go through it as well. */
export function mapMeasured(measured: Measured, through: (value: number) => number): Measured {
  if (!isMeasured(measured)) return measured;
  const a = through(measured.low);
  const b = through(measured.high);
  return { value: through(measured.value), low: Math.min(a, b), high: Math.max(a, b) };
}

/** Difference a - b of two values, intervals added in squares; the first reason where one is missing. */
export function difference(a: Measured, b: Measured): Measured {
  if (!isMeasured(a)) return a;
  if (!isMeasured(b)) return b;
  const halfA = (a.high - a.low) / 2;
  const halfB = (b.high - b.low) / 2;
  return estimate(a.value - b.value, Math.hypot(halfA, halfB));
}

/**
 * A length made of several points of a frame, in upper-arm lengths. pointsInIt says how many point scatters it holds,
 * for its interval. Without a known scatter there is no interval, so it counts as not measured.
 */
export function lengthOf(
  frame: KinematicFrame,
  missing: NotMeasuredReason,
  pointsInIt: number,
  value: number | null,
): Measured {
  if (value === null) return notMeasured(frame.reason ?? missing);
  if (frame.pointSdUpperArms === null) return notMeasured('too-uncertain');
  return estimate(value, Z95 * Math.sqrt(pointsInIt) * frame.pointSdUpperArms);
}

/** Median place of a point over frames, or null where it is not seen in half of them. */
export function placeOver(
  frames: readonly KinematicFrame[],
  point: (frame: KinematicFrame) => PlanePoint | null,
): PlanePoint | null {
  const places = frames.flatMap((frame) => point(frame) ?? []);
  if (places.length < QUORUM * frames.length) return null;
  const forward = median(places.map((place) => place.forward));
  const up = median(places.map((place) => place.up));
  return forward === null || up === null ? null : { forward, up };
}

/** Distance of a point from a fixed place, in upper-arm lengths. */
export function distanceFrom(
  place: PlanePoint | null,
  point: (frame: KinematicFrame) => PlanePoint | null,
  missing: NotMeasuredReason,
): Pick {
  return (frame) => {
    const here = point(frame);
    const value = here && place ? Math.hypot(here.forward - place.forward, here.up - place.up) : null;
    return lengthOf(frame, missing, 2, value);
  };
}
