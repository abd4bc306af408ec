import { estimatorSentence, sourceSentence } from '../core/feedback/source-problems.ts';
import { EstimatorError } from '../core/pose/estimator-problem.ts';
import type { FigureOverlay } from '../core/pose/figure-overlay.ts';
import type { FrameSource, SourcePicture } from '../core/pose/frame-source.ts';
import type { Side } from '../core/pose/landmark.ts';
import type { EstimatorIdentity, PoseEstimator } from '../core/pose/pose-estimator.ts';
import { poseFollower, type PoseFollower } from '../core/pose/pose-follower.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';

/** Measures a frame and says what to draw on its picture. */
export type Taker = (frame: PoseFrame) => FigureOverlay;

/** How a stream of pictures ended; a failure comes with the sentence to show. */
export type StreamEnd =
  { readonly kind: 'finished' | 'stopped' } | { readonly kind: 'failed'; readonly sentence: string };

/** Draws a picture and the figure on it; called while the picture is valid. */
export type Painter = (picture: SourcePicture, overlay: FigureOverlay) => void;

/**
 * Runs one source at a time through the estimator. The estimator is loaded when the first source starts and kept for
 * the next. Pictures never become state: they are painted at once and forgotten.
 */
export class PictureStream {
  readonly #loadEstimator: () => Promise<PoseEstimator>;
  #painters: readonly Painter[] = [];
  #estimator: PoseEstimator | null = null;
  /** Settles when the source before has ended: two sources must never feed one estimator. */
  #before: Promise<unknown> = Promise.resolve();
  /** The source asked for last; one that was overtaken while it waited never starts. */
  #latest: FrameSource | null = null;
  #source = $state.raw<FrameSource | null>(null);
  #isPreparing = $state(false);

  constructor(loadEstimator: () => Promise<PoseEstimator>) {
    this.#loadEstimator = loadEstimator;
  }

  /** The source that runs, or null. */
  get source(): FrameSource | null {
    return this.#source;
  }

  /** True while the network loads or forgets: no picture comes yet. */
  get isPreparing(): boolean {
    return this.#isPreparing;
  }

  /** Which network gives the landmarks; null before the first source. */
  get identity(): EstimatorIdentity | null {
    return this.#estimator?.identity ?? null;
  }

  /** Paints every picture from now on; call what is returned to end that. */
  watch(painter: Painter): () => void {
    this.#painters = [...this.#painters, painter];
    return () => {
      this.#painters = this.#painters.filter((other) => other !== painter);
    };
  }

  /** Ends the source that runs or waits, if any. */
  stop(): void {
    this.#latest = null;
    this.#source?.stop();
  }

  /**
   * Runs a source to its end and follows the person of the given treated side. Never rejects: a failure of source,
   * estimator or consumer is an end with a sentence.
   */
  run(source: FrameSource, side: Side, take: Taker): Promise<StreamEnd> {
    this.stop();
    this.#latest = source;
    const end = this.#before.then(() => this.#runAlone(source, side, take));
    this.#before = end;
    return end;
  }

  async #runAlone(source: FrameSource, side: Side, take: Taker): Promise<StreamEnd> {
    if (this.#latest !== source) {
      source.stop();
      return { kind: 'stopped' };
    }
    this.#source = source;
    try {
      const follower = poseFollower(await this.#prepare(), side);
      const end = await source.run((picture) => this.#consume(follower, picture, take));
      return end.kind === 'failed' ? { kind: 'failed', sentence: sourceSentence(end.problem) } : end;
    } catch (error) {
      source.stop();
      this.#forgetEstimator();
      return {
        kind: 'failed',
        sentence: estimatorSentence(error instanceof EstimatorError ? error.problem : 'failed'),
      };
    } finally {
      this.#isPreparing = false;
      this.#source = null;
    }
  }

  async #prepare(): Promise<PoseEstimator> {
    this.#isPreparing = true;
    this.#estimator ??= await this.#loadEstimator();
    return this.#estimator;
  }

  async #consume(follower: PoseFollower, picture: SourcePicture, take: Taker): Promise<void> {
    const frame = await follower.follow(picture);
    this.#isPreparing = false;
    const overlay = take(frame);
    for (const paint of this.#painters) paint(picture, overlay);
  }

  /** After a failure the next source starts with a new estimator. */
  #forgetEstimator(): void {
    this.#estimator?.dispose();
    this.#estimator = null;
  }
}
