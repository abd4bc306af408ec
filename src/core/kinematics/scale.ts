import { median } from '../math/statistics.ts';
import { toRadians } from '../math/angle.ts';
import type { SidedPlace } from '../pose/sided-pose.ts';
import { middle } from '../pose/sided-pose.ts';
import {
  ASSUMED_VERTICAL_FIELD_DEG,
  HALF_WIDTH_OVER_STATURE,
  SEGMENT_OVER_STATURE,
  SEGMENT_SPREAD,
  type Segment,
} from './anthropometry.ts';
import type { TrackedPlaces } from './tracked-points.ts';

/** Lengths of the segments in one picture, pixels, the horizontal stretched; null where an end is not seen. */
export type SegmentLengths = Readonly<Record<Segment, number | null>>;

/** Segment lengths of one picture with the horizontal stretched by this factor, pixels. */
export function segmentLengths(places: TrackedPlaces, stretch: number): SegmentLengths {
  const length = (a: SidedPlace | null, b: SidedPlace | null): number | null =>
    a && b ? Math.hypot((a.forward - b.forward) * stretch, a.up - b.up) : null;
  const { shoulder, otherShoulder, hip, otherHip } = places;
  return {
    trunk: length(
      shoulder && otherShoulder && middle(shoulder, otherShoulder),
      hip && otherHip && middle(hip, otherHip),
    ),
    thigh: length(places.hip, places.knee),
    shank: length(places.knee, places.ankle),
    upperArm: length(places.shoulder, places.elbow),
    forearm: length(places.elbow, places.wrist),
  };
}

/** Centimetres of a pixel in the body's middle plane, its relative standard deviation, and from what. */
export interface Scale {
  readonly cmPerPx: number;
  readonly relativeSd: number;
  readonly source: string;
}

/** Names of the segments in a scale source. */
const NAMES: Readonly<Record<Segment, string>> = {
  trunk: 'trunk',
  thigh: 'thigh',
  shank: 'shank',
  upperArm: 'upper arm',
  forearm: 'forearm',
};

/** How much nearer to the camera than the body's middle each segment of the near side lies, fraction of stature. */
const NEARER_BY: Readonly<Record<Segment, number>> = {
  trunk: 0,
  thigh: HALF_WIDTH_OVER_STATURE.hip,
  shank: HALF_WIDTH_OVER_STATURE.hip,
  upperArm: HALF_WIDTH_OVER_STATURE.shoulder,
  forearm: HALF_WIDTH_OVER_STATURE.shoulder,
};

/** A segment seen in fewer pictures than this share of the best seen one does not count. */
const LEAST_SEEN_SHARE = 0.25;

/** Further from the consensus than this factor, a segment is taken as foreshortened or misplaced and left out. */
const OUTLIER_FACTOR = 1.18;

/** A set's typical length of each segment, pixels, and in how many pictures it was seen. */
export type TypicalLengths = Readonly<Record<Segment, { px: number; seen: number } | null>>;

interface Vote {
  readonly segment: Segment;
  readonly cmPerPx: number;
  readonly weight: number;
}

function voteOf(segment: Segment, px: number, statureCm: number, heightPx: number): Vote {
  const focalPx = heightPx / 2 / Math.tan(toRadians(ASSUMED_VERTICAL_FIELD_DEG / 2));
  const own = (SEGMENT_OVER_STATURE[segment] * statureCm) / px;
  // A segment nearer to the camera looks larger by its distance: cm per pixel grows by depth over focal length.
  const cmPerPx = own + (NEARER_BY[segment] * statureCm) / focalPx;
  return { segment, cmPerPx, weight: 1 / SEGMENT_SPREAD[segment] ** 2 };
}

/** Centre of the votes that most weight agrees with: a weighted median in the logarithm. */
function weightedMedian(votes: readonly Vote[]): number {
  const sorted = [...votes].sort((a, b) => a.cmPerPx - b.cmPerPx);
  const half = sorted.reduce((sum, vote) => sum + vote.weight, 0) / 2;
  let sum = 0;
  for (const vote of sorted) {
    sum += vote.weight;
    if (sum >= half) return vote.cmPerPx;
  }
  return 0;
}

/**
 * Scale from stature (cm) and the set's segment lengths: a weighted mean over the segments that agree, because each
 * person's single segment differs from the table by several per cent and the mean of five by two. A segment that
 * points out of the plane looks short and gives too large a scale: it is left out when it is far from the rest.
 * Null when no segment was seen. Source of the fractions: anthropometry.ts.
 */
export function scaleFrom(lengths: TypicalLengths, statureCm: number, heightPx: number): Scale | null {
  const segments = ['trunk', 'thigh', 'shank', 'upperArm', 'forearm'] as const satisfies readonly Segment[];
  const mostSeen = Math.max(...segments.map((segment) => lengths[segment]?.seen ?? 0));
  const votes = segments.flatMap((segment) => {
    const length = lengths[segment];
    if (!length || length.px < 1 || length.seen < LEAST_SEEN_SHARE * mostSeen) return [];
    return [voteOf(segment, length.px, statureCm, heightPx)];
  });
  if (votes.length === 0) return null;
  const centre = weightedMedian(votes);
  const agreeing = votes.filter(
    (vote) => Math.abs(Math.log(vote.cmPerPx / centre)) <= Math.log(OUTLIER_FACTOR),
  );
  const weight = agreeing.reduce((sum, vote) => sum + vote.weight, 0);
  const cmPerPx = Math.exp(agreeing.reduce((sum, v) => sum + v.weight * Math.log(v.cmPerPx), 0) / weight);
  return {
    cmPerPx,
    // The segments of one person tend to differ from the table together: no better than 2 per cent.
    relativeSd: Math.hypot(0.02, 1 / Math.sqrt(weight)),
    source: agreeing.map((vote) => NAMES[vote.segment]).join(', '),
  };
}

/** Typical length of each segment over many pictures: the median, pixels. */
export function typicalLengths(lengths: readonly SegmentLengths[]): TypicalLengths {
  const typical = (segment: Segment): { px: number; seen: number } | null => {
    const seen = lengths.flatMap((frame) => (frame[segment] === null ? [] : [frame[segment]]));
    const px = median(seen);
    return px === null ? null : { px, seen: seen.length };
  };
  return {
    trunk: typical('trunk'),
    thigh: typical('thigh'),
    shank: typical('shank'),
    upperArm: typical('upperArm'),
    forearm: typical('forearm'),
  };
}
