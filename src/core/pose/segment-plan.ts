import { binOf, TIME_TOLERANCE_SECONDS } from './picture-rate.ts';

/**
 * Length of the segments of a clip that are measured apart, seconds of its own time. In each the person is searched
 * afresh, however many workers there are, so that the result is the same on every machine. Long enough that a fresh
 * search and a jump to a key frame cost little; short enough that a clip of half a minute keeps several cores busy and
 * a worker that breaks down loses little.
 */
const SEGMENT_SECONDS = 5;

/**
 * The segment that a picture belongs to, from 0: by its own time and the rate at which pictures are measured
 * (picture-rate.ts; null for all) only. A bin of that rate is never cut. What comes before media time 0 is in segment 0.
 */
export function segmentOf(timeSeconds: number, rateHz: number | null): number {
  const seconds =
    rateHz === null ? timeSeconds + TIME_TOLERANCE_SECONDS : binOf(timeSeconds, rateHz) / rateHz;
  return Math.max(0, Math.floor(seconds / SEGMENT_SECONDS));
}

/** No picture of the segment is earlier, seconds; minus infinity for the first one. */
export function earliestOf(segment: number): number {
  return segment === 0 ? Number.NEGATIVE_INFINITY : segment * SEGMENT_SECONDS - 2 * TIME_TOLERANCE_SECONDS;
}

/** Media time that has gone by when every segment before this one is done, seconds. */
export function startOf(segment: number): number {
  return segment * SEGMENT_SECONDS;
}

/** One segment of one clip. */
export interface ClipSegment {
  readonly clip: number;
  readonly segment: number;
}

/** Segments in a row that nobody has been given yet. */
interface Stretch {
  readonly clip: number;
  from: number;
  to: number;
  /** Who goes on here; null when nobody does. */
  worker: number | null;
  /** Part of it was given to somebody once. */
  hasBegun: boolean;
}

/**
 * Which worker measures which segment of which clip. Each worker is given neighbouring segments as long as it can, so
 * that its decoder goes on without a jump; one that has none left begins a clip that nobody has begun, or else takes the
 * second half of the longest stretch that is left. So a folder keeps every core busy, and so does a single clip.
 */
export class SegmentPlan {
  #stretches: Stretch[] = [];

  /** Whether a segment waits to be given to somebody. */
  get hasWaiting(): boolean {
    return this.#stretches.length > 0;
  }

  /** Adds a clip of so many segments; later clips wait for earlier ones. */
  add(clip: number, segments: number): void {
    if (segments > 0) this.#stretches.push({ clip, from: 0, to: segments, worker: null, hasBegun: false });
  }

  /** Forgets what has not been given of a clip. */
  remove(clip: number): void {
    this.#stretches = this.#stretches.filter((stretch) => stretch.clip !== clip);
  }

  /** The next segment for a worker, which is thereby given; null when nothing is left. */
  next(worker: number): ClipSegment | null {
    const stretch =
      this.#stretches.find((one) => one.worker === worker) ??
      this.#stretches.find((one) => one.worker === null && one.hasBegun) ??
      this.#stretches.find((one) => one.worker === null) ??
      this.#secondHalfOfLongest();
    if (stretch === null) return null;
    stretch.worker = worker;
    stretch.hasBegun = true;
    const segment = stretch.from;
    stretch.from += 1;
    if (stretch.from === stretch.to) this.#stretches = this.#stretches.filter((one) => one !== stretch);
    return { clip: stretch.clip, segment };
  }

  /** A worker is gone: others take what it was given and did not finish, and what it would have been given. */
  release(worker: number, unfinished: ClipSegment | null): void {
    const own = this.#stretches.find((one) => one.worker === worker);
    if (own !== undefined) own.worker = null;
    if (unfinished === null) return;
    const { clip, segment } = unfinished;
    if (own?.clip === clip && own.from === segment + 1) own.from = segment;
    else this.#stretches.unshift({ clip, from: segment, to: segment + 1, worker: null, hasBegun: true });
  }

  #secondHalfOfLongest(): Stretch | null {
    const [longest] = this.#stretches.toSorted((a, b) => b.to - b.from - (a.to - a.from));
    if (longest === undefined) return null;
    const middle = longest.from + Math.floor((longest.to - longest.from) / 2);
    // A single segment goes to the thief as a whole.
    if (middle === longest.from) return longest;
    const half: Stretch = { ...longest, from: middle };
    longest.to = middle;
    this.#stretches.push(half);
    return half;
  }
}
