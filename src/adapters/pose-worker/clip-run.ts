import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import { breaksOff } from '../../core/pose/clip-limits.ts';
import type { FrameSource, SourceEnd, SourceProblem } from '../../core/pose/frame-source.ts';
import { LEAST_STEP_SECONDS } from '../../core/pose/least-step.ts';
import type { RunOptions, SeenPicture } from '../../core/pose/pose-service.ts';
import { segmentOf, startOf } from '../../core/pose/segment-plan.ts';
import { breathe } from './breathe.ts';
import type { ClipFrameMessage, ClipOpenedMessage, SegmentDoneMessage } from './messages.ts';

/** Handing over pauses after so long, milliseconds, so that the page can paint and answer. */
const LONGEST_TURN_MS = 12;

/** Pictures to look at that wait at most: two seconds of them. */
const MOST_PICTURES = 16;

/** What has come of a segment. */
interface SegmentSeen {
  readonly frames: ClipFrameMessage[];
  end: SegmentDoneMessage | null;
}

/** What a run of a clip is about. */
export interface ClipRunFacts {
  readonly source: FrameSource;
  readonly options: RunOptions;
  readonly take: (seen: SeenPicture) => void;
  /** Called when another segment has come to be the next to be handed over. */
  readonly onFront: (segment: number) => void;
}

/**
 * One clip whose segments are measured in any order: hands frames over strictly in order of time. What has been handed
 * over is never taken back.
 */
export class ClipRun {
  readonly ended: Promise<SourceEnd>;
  readonly #facts: ClipRunFacts;
  readonly #end = Promise.withResolvers<SourceEnd>();
  #segments: SegmentSeen[] = [];
  #span: ClipOpenedMessage | null = null;
  #front = 0;
  /** Frames of the front segment that were handed over. */
  #given = 0;
  #lastGivenSeconds = Number.NEGATIVE_INFINITY;
  #lastPictureSeconds: number | null = null;
  #isHandingOver = false;
  #hasEnded = false;
  /** The pictures to look at that wait, the oldest first. */
  readonly #waitingPictures = new Set<ImageBitmap>();

  constructor(facts: ClipRunFacts) {
    this.#facts = facts;
    this.ended = this.#end.promise.finally(() => this.#cleanUp());
    const { stopping } = facts.source;
    const stop = (): void => this.#finish({ kind: 'stopped' });
    if (stopping.aborted) stop();
    stopping.addEventListener('abort', stop, { once: true });
  }

  /** The segment that is handed over next. */
  get front(): number {
    return this.#front;
  }

  /** How many segments there are; 0 before it is known. */
  get count(): number {
    return this.#segments.length;
  }

  get hasEnded(): boolean {
    return this.#hasEnded;
  }

  /** Takes what the file says of itself. Later answers of other workers say the same. */
  opened(message: ClipOpenedMessage): void {
    if (message.problem !== null) this.#finish({ kind: 'failed', problem: message.problem });
    if (this.#span !== null) return;
    this.#span = message;
    const last = message.lastSeconds ?? this.#facts.source.durationSeconds ?? 0;
    this.#makeSegments(segmentOf(last, this.#facts.options.clipRateHz) + 1);
  }

  /** A frame of any segment. One that was measured before, by a worker that broke down, comes to the same and is dropped. */
  frame(message: ClipFrameMessage): void {
    const segment = this.#segments[message.segment];
    const last = segment?.frames.at(-1)?.frame.timeSeconds ?? Number.NEGATIVE_INFINITY;
    if (this.#hasEnded || segment === undefined || message.frame.timeSeconds <= last)
      return message.picture?.close();
    if (message.picture !== null) this.#waitingPictures.add(message.picture);
    if (this.#waitingPictures.size > MOST_PICTURES) {
      const [oldest] = this.#waitingPictures;
      if (oldest !== undefined) this.#drop(oldest);
    }
    segment.frames.push(message);
    this.#facts.options.onProgress?.(this.#share());
    void this.#handOver();
  }

  done(message: SegmentDoneMessage): void {
    const segment = this.#segments[message.segment];
    if (this.#hasEnded || segment === undefined) return;
    segment.end = message;
    this.#facts.options.onProgress?.(this.#share());
    void this.#handOver();
  }

  /** Forgets everything that was measured; false when some of it was handed over already. */
  startAfresh(): boolean {
    if (this.#lastGivenSeconds > Number.NEGATIVE_INFINITY) return false;
    for (const picture of this.#waitingPictures) this.#drop(picture);
    this.#makeSegments(this.count);
    this.#front = 0;
    this.#lastPictureSeconds = null;
    return true;
  }

  fail(error: unknown): void {
    this.#hasEnded = true;
    this.#end.reject(
      error instanceof EstimatorError ? error : new EstimatorError('failed', String(error), { cause: error }),
    );
  }

  #makeSegments(count: number): void {
    this.#segments = Array.from({ length: count }, () => ({ frames: [], end: null }));
  }

  async #handOver(): Promise<void> {
    if (this.#isHandingOver) return;
    this.#isHandingOver = true;
    try {
      let from = performance.now();
      for (let next = this.#next(); next !== null; next = this.#next()) {
        this.#give(next);
        if (performance.now() - from < LONGEST_TURN_MS) continue;
        await breathe();
        from = performance.now();
      }
    } catch (error) {
      // What the taker throws is its own: it goes to whoever runs the source.
      this.#hasEnded = true;
      this.#end.reject(error);
    } finally {
      this.#isHandingOver = false;
    }
  }

  /** The next frame in order of time; null when it has not come, or the clip is at its end. */
  #next(): ClipFrameMessage | null {
    for (;;) {
      const segment = this.#segments[this.#front];
      if (this.#hasEnded || segment === undefined) return null;
      const next = segment.frames[this.#given];
      if (next !== undefined) {
        this.#given += 1;
        return next;
      }
      if (segment.end === null) return null;
      this.#closeFront(segment.end);
    }
  }

  #closeFront({ lastPictureSeconds, problem }: SegmentDoneMessage): void {
    this.#lastPictureSeconds = lastPictureSeconds ?? this.#lastPictureSeconds;
    if (problem !== null) return this.#finish({ kind: 'failed', problem });
    // What was handed over is not needed any more.
    this.#segments[this.#front]?.frames.splice(0);
    this.#front += 1;
    this.#given = 0;
    if (this.#front === this.count) this.#finish(this.#wholeEnd());
    else this.#facts.onFront(this.#front);
  }

  /** The end of a clip of which all segments were read without a fault. */
  #wholeEnd(): SourceEnd {
    const failed = (problem: SourceProblem): SourceEnd => ({ kind: 'failed', problem });
    if (this.#lastPictureSeconds === null) return failed('clip-empty');
    return breaksOff(this.#span?.lastSeconds ?? null, this.#lastPictureSeconds)
      ? failed('clip-damaged')
      : { kind: 'finished' };
  }

  #give({ frame, workMs, networkMs, picture }: ClipFrameMessage): void {
    // Where two segments meet, a picture may be given twice.
    const isAgain = frame.timeSeconds < this.#lastGivenSeconds + LEAST_STEP_SECONDS;
    const shown = picture !== null && this.#waitingPictures.has(picture) ? picture : null;
    try {
      if (isAgain) return;
      this.#lastGivenSeconds = frame.timeSeconds;
      const timing = { workMs, networkMs, latencyMs: null, dropped: null };
      this.#facts.take({ frame, picture: shown, timing });
    } finally {
      if (shown !== null) this.#drop(shown);
    }
  }

  /** How much of the clip is measured by all workers together, 0 to 1, by media time. */
  #share(): number {
    const first = this.#span?.firstSeconds ?? 0;
    const last = Math.max(this.#span?.lastSeconds ?? this.#facts.source.durationSeconds ?? 0, first + 1e-3);
    let doneSeconds = 0;
    for (const [index, { frames, end }] of this.#segments.entries()) {
      const from = Math.max(first, startOf(index));
      const to = Math.min(last, startOf(index + 1));
      const at = end === null && index >= this.#front ? (frames.at(-1)?.frame.timeSeconds ?? from) : to;
      doneSeconds += Math.max(0, Math.min(at, to) - from);
    }
    return Math.min(1, doneSeconds / (last - first));
  }

  #finish(end: SourceEnd): void {
    this.#hasEnded = true;
    this.#end.resolve(end);
  }

  #cleanUp(): void {
    for (const picture of this.#waitingPictures) this.#drop(picture);
    this.#facts.source.stop();
  }

  #drop(picture: ImageBitmap): void {
    this.#waitingPictures.delete(picture);
    picture.close();
  }
}
