import type { LiveMessage } from '../core/consult/messages.ts';
import { MATCH_LIMITS } from '../core/consult/match-limits.ts';
import { PictureMatch } from '../core/consult/picture-match.ts';
import type { FigureDrawing } from '../core/pose/figure-surface.ts';

/** What a browser tells of a received picture when it is shown; what it does not tell is left out. */
export interface ShownPicture {
  readonly rtpTimestamp?: number | undefined;
  /** When it was taken, by this page's clock, milliseconds. */
  readonly captureTime?: number | undefined;
}

/** The figure of a picture, and when that was taken by the patient's clock, milliseconds; null where that is not told. */
interface TimedDrawing extends FigureDrawing {
  readonly capturedMs: number | null;
}

/**
 * none: no picture, or nothing measured. looking: it is not known yet which picture a figure belongs to. matched: it is. behind: it is, but that
 * picture has stopped or comes late. cannot: this browser does not tell enough of the pictures.
 */
export type MatchState = 'none' | 'looking' | 'matched' | 'behind' | 'cannot';

/** So many pictures in a row without their times, and the browser is held not to tell them. */
const TIMELESS_PICTURES = 200;
/** How often the hold of the picture is looked at, milliseconds. */
const HOLD_LOOK_MS = 2_000;
/** Figures on the picture change at most this often, milliseconds. */
const PUBLISH_MS = 200;
/** Numbers of a picture that is older than the newest figures by this would be taken for what is now, seconds; as in silence. */
const BEHIND_SECONDS = 2;

/** What the pictures stand on. */
interface PictureParts {
  /** The other page's clock minus this one's, milliseconds; null before it is known. */
  readonly offsetMs: () => number | null;
  /** Holds received pictures back for so long before they are shown, milliseconds. */
  readonly hold: (ms: number) => void;
}

/** The received pictures and the figures that were measured in them, brought together. */
export class ConsultPictures {
  readonly #parts: PictureParts;
  readonly #match = new PictureMatch<LiveMessage>();
  #state = $state<MatchState>('none');
  #shown = $state.raw<LiveMessage | null>(null);
  #timeless = 0;
  #isMeasured = false;
  #takenSeconds = 0;
  #holdMs = 0;
  #lookedMs = 0;
  #publishedMs = 0;

  constructor(parts: PictureParts) {
    this.#parts = parts;
  }

  get state(): MatchState {
    return this.#state;
  }

  /** What was measured in the picture that is shown now; null where that is not known. */
  get shown(): LiveMessage | null {
    return this.#state === 'matched' ? this.#shown : null;
  }

  /** Takes what was measured in a picture, which comes later or is there already. */
  take(message: LiveMessage): void {
    this.#isMeasured = true;
    this.#takenSeconds = message.timeSeconds;
    this.#match.take(message);
    if (this.#shown !== null && this.#isBehind(this.#shown)) this.#fallBehind();
  }

  /** Nothing is measured any more. */
  forget(): void {
    this.#match.forget();
    this.#isMeasured = false;
    this.#shown = null;
    this.#state = 'none';
    this.#timeless = 0;
    this.#holdTo(0);
  }

  /** The figure to be drawn on the picture that is shown now, at this moment of the page's clock; null for none. */
  show({ rtpTimestamp, captureTime }: ShownPicture, nowMs: number): TimedDrawing | null {
    if (!this.#isMeasured) return null;
    const offsetMs = this.#parts.offsetMs();
    const isTold = rtpTimestamp !== undefined && captureTime !== undefined;
    this.#timeless = isTold ? 0 : this.#timeless + 1;
    if (rtpTimestamp === undefined) {
      this.#state = this.#timeless > TIMELESS_PICTURES ? 'cannot' : 'looking';
      return null;
    }
    const capturedMs = captureTime === undefined || offsetMs === null ? null : captureTime + offsetMs;
    const found = this.#match.show({ rtpTimestamp, capturedMs });
    if (found.kind === 'unknown') {
      this.#state = this.#timeless > TIMELESS_PICTURES ? 'cannot' : 'looking';
      return null;
    }
    this.#lookAtHold(nowMs);
    if (found.kind !== 'figure') {
      if (this.#state !== 'behind') this.#state = 'matched';
      return null;
    }
    if (this.#isBehind(found.measured)) this.#fallBehind();
    else if (this.#state !== 'matched' || nowMs - this.#publishedMs >= PUBLISH_MS) {
      this.#state = 'matched';
      this.#publishedMs = nowMs;
      this.#shown = found.measured;
    }
    const { widthPx, heightPx } = found.measured;
    return { overlay: found.joints, widthPx, heightPx, capturedMs: found.capturedMs };
  }

  #isBehind({ timeSeconds }: LiveMessage): boolean {
    return Math.abs(this.#takenSeconds - timeSeconds) > BEHIND_SECONDS;
  }

  #fallBehind(): void {
    this.#state = 'behind';
    this.#shown = null;
  }

  /** Figures that come later than their picture would never be seen on it: then the picture waits for them. */
  #lookAtHold(nowMs: number): void {
    if (nowMs - this.#lookedMs < HOLD_LOOK_MS) return;
    this.#lookedMs = nowMs;
    const more = this.#match.moreHoldMs();
    if (more !== 0) this.#holdTo(Math.min(MATCH_LIMITS.longestHoldMs, Math.max(0, this.#holdMs + more)));
  }

  #holdTo(ms: number): void {
    if (ms === this.#holdMs) return;
    this.#holdMs = ms;
    this.#parts.hold(ms);
  }
}
