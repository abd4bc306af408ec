import { median, quantile } from '../math/statistics.ts';
import type { DrawnJoint, FigureOverlay } from '../pose/figure-overlay.ts';
import { MATCH_LIMITS } from './match-limits.ts';
import { RtpClock } from './rtp-clock.ts';

/** What of a measured picture is needed to find it again. */
export interface MeasuredPicture {
  /** The picture's own time at the sender, seconds. */
  readonly timeSeconds: number;
  /** When it was taken by the sender's page, milliseconds; null where its browser does not tell. */
  readonly capturedMs: number | null;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly joints: FigureOverlay;
}

/** A received picture, as the browser tells of it. */
export interface ReceivedPicture {
  readonly rtpTimestamp: number;
  /** When it was taken, by the clock of the sender's page, milliseconds; null while that is not known. */
  readonly capturedMs: number | null;
}

/**
 * What belongs to a received picture. unknown: the two clocks are not laid against each other (yet). missing: nothing that was measured is
 * near enough: it is still on its way, was lost, or was not measured.
 */
export type PictureMatchFound<M extends MeasuredPicture> =
  | {
      readonly kind: 'figure';
      readonly measured: M;
      readonly joints: FigureOverlay;
      /** When the shown picture was taken, by the sender's page, milliseconds; null where its browser does not tell. */
      readonly capturedMs: number | null;
    }
  | { readonly kind: 'unknown' | 'missing' };

/** One shown picture: its RTP time, and by how much that is ahead of the frame's own time as the browser tells of its capture. */
interface Shown {
  readonly rtpMs: number;
  readonly aheadMs: number;
}

/**
 * Finds the figure that belongs to a received picture. Both carry a time of the sender's, but of two clocks: the figures the camera's, the
 * pictures RTP's. The offset is learned in two steps. Coarse: the browser tells when a received picture was taken (from the sender's RTCP
 * reports), and the figures tell it of theirs. Exact: a picture that was measured and shown has both times, so the true offset is the one at
 * which most pictures agree to a millisecond; where several do (a camera whose pictures come as regularly as a clock's ticks), the one
 * nearest to the coarse one.
 */
export class PictureMatch<M extends MeasuredPicture = MeasuredPicture> {
  #rtp = new RtpClock();
  #measured: M[] = [];
  #shown: Shown[] = [];
  #sinceRenewed = 0;
  #aheadMs: number | null = null;
  #missingMs: number[] = [];

  /** By how much RTP's clock (from its first picture) is ahead of the figures', milliseconds; null while it is not known. */
  get aheadMs(): number | null {
    return this.#aheadMs;
  }

  /** Takes what was measured. What comes out of order finds its place. */
  take(measured: M): void {
    const newest = this.#measured.at(-1);
    const gapMs = newest === undefined ? 0 : (measured.timeSeconds - newest.timeSeconds) * 1000;
    // Another camera, or its clock was set: what is known of the one before holds no longer.
    if (Math.abs(gapMs) > MATCH_LIMITS.keptMs) this.forget();
    const place = this.#measured.findLastIndex(({ timeSeconds }) => timeSeconds < measured.timeSeconds);
    this.#measured.splice(place + 1, 0, measured);
    const since = (this.#measured.at(-1)?.timeSeconds ?? 0) - MATCH_LIMITS.keptMs / 1000;
    while ((this.#measured[0]?.timeSeconds ?? since) < since || this.#measured.length > MATCH_LIMITS.kept)
      this.#measured.shift();
  }

  /** What belongs to a picture that is shown now. */
  show(picture: ReceivedPicture): PictureMatchFound<M> {
    const rtpMs = this.#rtp.ms(picture.rtpTimestamp);
    this.#learn(rtpMs, picture.capturedMs);
    if (this.#aheadMs === null) return { kind: 'unknown' };
    const timeMs = rtpMs - this.#aheadMs;
    const found = this.#find(timeMs);
    if (found === null) return { kind: 'missing' };
    const pageAheadMs = this.#pageAheadMs();
    return { kind: 'figure', ...found, capturedMs: pageAheadMs === null ? null : timeMs + pageAheadMs };
  }

  /**
   * By how much longer (positive) or shorter pictures should be held back so that most of them have their figure, milliseconds; 0 when it is
   * well as it is. Begins to count anew each time it is asked.
   */
  moreHoldMs(): number {
    const missing = quantile(this.#missingMs, MATCH_LIMITS.inTimeShare);
    const isEnough = this.#missingMs.length >= MATCH_LIMITS.leastClockPictures;
    this.#missingMs = [];
    if (missing === null || !isEnough) return 0;
    const { holdStepMs } = MATCH_LIMITS;
    if (missing > 0) return missing + holdStepMs;
    // Given back slowly, and only what is to spare by far: each change is seen as a jerk.
    return missing < -4 * holdStepMs ? -holdStepMs : 0;
  }

  forget(): void {
    this.#rtp = new RtpClock();
    this.#measured = [];
    this.#shown = [];
    this.#aheadMs = null;
    this.#missingMs = [];
    this.#sinceRenewed = 0;
  }

  #learn(rtpMs: number, capturedMs: number | null): void {
    const pageAheadMs = this.#pageAheadMs();
    if (capturedMs === null || pageAheadMs === null) return;
    const aheadMs = rtpMs - (capturedMs - pageAheadMs);
    const before = median(this.#shown.map((one) => one.aheadMs));
    // Another track, or another clock: what was learned holds no longer.
    if (before !== null && Math.abs(aheadMs - before) > MATCH_LIMITS.jumpMs) {
      this.#shown = [];
      this.#aheadMs = null;
    }
    this.#shown.push({ rtpMs, aheadMs });
    if (this.#shown.length > MATCH_LIMITS.clockPictures) this.#shown.shift();
    this.#sinceRenewed += 1;
    const isDue = this.#aheadMs === null || this.#sinceRenewed >= MATCH_LIMITS.renewPictures;
    if (!isDue || this.#shown.length < MATCH_LIMITS.leastClockPictures) return;
    this.#sinceRenewed = 0;
    const coarseMs = median(this.#shown.map((one) => one.aheadMs));
    if (coarseMs !== null) this.#aheadMs = coarseMs + this.#refinedMs(coarseMs);
  }

  /** By how much the sender's page clock is ahead of the figures' own, milliseconds; null before both are known. */
  #pageAheadMs(): number | null {
    const told = this.#measured
      .slice(-MATCH_LIMITS.clockPictures)
      .flatMap(({ capturedMs, timeSeconds }) =>
        capturedMs === null ? [] : [capturedMs - timeSeconds * 1000],
      );
    return median(told);
  }

  /** By how much the exact offset differs from the coarse one, milliseconds; 0 where too few pictures agree. */
  #refinedMs(coarseMs: number): number {
    const { searchMs, sameMs, usualMs, leastAgreeing } = MATCH_LIMITS;
    const differences: number[] = [];
    for (const { rtpMs } of this.#shown)
      for (const { timeSeconds } of this.#measured) {
        const difference = rtpMs - coarseMs - timeSeconds * 1000;
        if (Math.abs(difference) <= searchMs) differences.push(difference);
      }
    differences.sort((a, b) => a - b);
    let best = { weight: 0, offMs: 0 };
    let to = 0;
    for (const [from, least] of differences.entries()) {
      while (to < differences.length && (differences[to] ?? 0) <= least + 2 * sameMs) to += 1;
      const agreeing = to - from;
      if (agreeing < leastAgreeing) continue;
      const offMs = median(differences.slice(from, to)) ?? 0;
      const weight = agreeing * Math.exp(-((offMs / usualMs) ** 2) / 2);
      if (weight > best.weight) best = { weight, offMs };
    }
    return best.offMs;
  }

  #find(timeMs: number): { readonly measured: M; readonly joints: FigureOverlay } | null {
    const { sameMs, bridgeMs, frameMs } = MATCH_LIMITS;
    const timeOf = ({ timeSeconds }: M): number => timeSeconds * 1000;
    const newest = this.#measured.at(-1);
    if (newest === undefined) return null;
    this.#missingMs.push(timeMs - timeOf(newest));
    const place = this.#measured.findLastIndex((one) => timeOf(one) <= timeMs + 2 * sameMs);
    const before = this.#measured[place];
    if (before === undefined) return null;
    const sinceMs = timeMs - timeOf(before);
    if (sinceMs <= 2 * sameMs) return { measured: before, joints: before.joints };
    const after = this.#measured[place + 1];
    if (after === undefined) return sinceMs <= frameMs ? { measured: before, joints: before.joints } : null;
    const gapMs = timeOf(after) - timeOf(before);
    if (gapMs > bridgeMs) return null;
    const share = sinceMs / gapMs;
    return {
      measured: share < 0.5 ? before : after,
      joints: jointsBetween(before, after, share),
    };
  }
}

/** The figure between two measured ones, in pixels of the nearer one's picture; a joint that one of them lacks is lacking. */
function jointsBetween(before: MeasuredPicture, after: MeasuredPicture, share: number): FigureOverlay {
  // A picture of another size, or turned, has no place between.
  if (before.widthPx !== after.widthPx || before.heightPx !== after.heightPx)
    return (share < 0.5 ? before : after).joints;
  const between = (name: keyof FigureOverlay): DrawnJoint | null => {
    const [from, to] = [before.joints[name], after.joints[name]];
    if (from === null || to === null) return null;
    return {
      x: from.x + (to.x - from.x) * share,
      y: from.y + (to.y - from.y) * share,
      certainty: from.certainty === 'measured' ? to.certainty : 'uncertain',
    };
  };
  return {
    shoulder: between('shoulder'),
    elbow: between('elbow'),
    wrist: between('wrist'),
    hip: between('hip'),
  };
}
