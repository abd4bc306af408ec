import { median } from '../math/statistics.ts';
import { SEGMENT_OVER_STATURE, SEGMENT_SPREAD, type Segment } from './anthropometry.ts';
import type { PlanePoint } from './kinematic-frame.ts';
import type { PlanePoints } from './plane-projection.ts';

/** Lengths of the segments in one picture, upper-arm lengths; null where an end is not seen. */
export type SegmentLengths = Readonly<Record<Segment, number | null>>;

/** Every segment, best known first. */
const SEGMENTS = ['trunk', 'thigh', 'shank', 'upperArm', 'forearm'] as const satisfies readonly Segment[];

/** Segment lengths of one picture. */
export function segmentLengths(points: PlanePoints): SegmentLengths {
  const length = (a: PlanePoint | null, b: PlanePoint | null): number | null =>
    a && b ? Math.hypot(a.forward - b.forward, a.up - b.up) : null;
  return {
    trunk: length(points.midShoulder, points.midHip),
    thigh: length(points.hip, points.knee),
    shank: length(points.knee, points.ankle),
    upperArm: length(points.shoulder, points.elbow),
    forearm: length(points.elbow, points.wrist),
  };
}

/** A set's typical length of each segment, upper-arm lengths, and in how many pictures it was seen. */
export type TypicalLengths = Readonly<Record<Segment, { length: number; seen: number } | null>>;

/** Typical length of each segment over many pictures: the median. */
export function typicalLengths(lengths: readonly SegmentLengths[]): TypicalLengths {
  const typical = (segment: Segment): { length: number; seen: number } | null => {
    const seen = lengths.flatMap((frame) => (frame[segment] === null ? [] : [frame[segment]]));
    const length = median(seen);
    return length === null ? null : { length, seen: seen.length };
  };
  return {
    trunk: typical('trunk'),
    thigh: typical('thigh'),
    shank: typical('shank'),
    upperArm: typical('upperArm'),
    forearm: typical('forearm'),
  };
}

/** Centimetres of the unit in which lengths are measured, its relative standard deviation, and from what. */
export interface Scale {
  readonly cmPerUnit: number;
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

/** A segment seen in fewer pictures than this share of the best seen one does not count. */
const LEAST_SEEN_SHARE = 0.25;

/** Further from the consensus than this factor, a segment is taken as foreshortened or misplaced and left out. */
const OUTLIER_FACTOR = 1.18;

/** No scale from body segments is better than this: one person's segments differ from the table together. */
const LEAST_RELATIVE_SD = 0.02;

interface Vote {
  readonly segment: Segment;
  readonly cmPerUnit: number;
  readonly weight: number;
}

/** The vote at which half of the weight is reached. */
function weightedMedian(votes: readonly Vote[]): number {
  const sorted = [...votes].sort((a, b) => a.cmPerUnit - b.cmPerUnit);
  const half = sorted.reduce((sum, vote) => sum + vote.weight, 0) / 2;
  let sum = 0;
  for (const vote of sorted) {
    sum += vote.weight;
    if (sum >= half) return vote.cmPerUnit;
  }
  return 0;
}

/**
 * Scale from stature (cm) and the set's segment lengths: a weighted mean over the segments that agree, because each
 * person's single segment differs from the table by several per cent and the mean of five by two. A segment that
 * points out of the plane looks short and gives too large a scale: it is left out when it is far from the rest.
 * Null when no segment was seen. Source of the fractions: anthropometry.ts.
 */
export function scaleFrom(lengths: TypicalLengths, statureCm: number): Scale | null {
  const mostSeen = Math.max(...SEGMENTS.map((segment) => lengths[segment]?.seen ?? 0));
  const votes = SEGMENTS.flatMap((segment) => {
    const typical = lengths[segment];
    if (!typical || !(typical.length > 0) || typical.seen < LEAST_SEEN_SHARE * mostSeen) return [];
    const cmPerUnit = (SEGMENT_OVER_STATURE[segment] * statureCm) / typical.length;
    return [{ segment, cmPerUnit, weight: 1 / SEGMENT_SPREAD[segment] ** 2 }];
  });
  if (votes.length === 0) return null;
  const centre = weightedMedian(votes);
  const agreeing = votes.filter(
    (vote) => Math.abs(Math.log(vote.cmPerUnit / centre)) <= Math.log(OUTLIER_FACTOR),
  );
  const weight = agreeing.reduce((sum, vote) => sum + vote.weight, 0);
  const meanLog = agreeing.reduce((sum, vote) => sum + vote.weight * Math.log(vote.cmPerUnit), 0) / weight;
  return {
    cmPerUnit: Math.exp(meanLog),
    relativeSd: Math.hypot(LEAST_RELATIVE_SD, 1 / Math.sqrt(weight)),
    source: agreeing.map((vote) => NAMES[vote.segment]).join(', '),
  };
}
