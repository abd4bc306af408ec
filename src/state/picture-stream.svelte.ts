import { estimatorSentence, sourceSentence } from '../core/feedback/source-problems.ts';
import { EstimatorError } from '../core/pose/estimator-problem.ts';
import type { FigureOverlay } from '../core/pose/figure-overlay.ts';
import type { FigureSurface, OpenFigureSurface } from '../core/pose/figure-surface.ts';
import type { FrameSource } from '../core/pose/frame-source.ts';
import type { PictureTile } from '../core/pose/picture-tile.ts';
import type { EstimatorIdentity, Picture } from '../core/pose/pose-estimator.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';
import type {
  EstimatorName,
  FrameTiming,
  LoadProgress,
  PoseBackend,
  PoseService,
  RunOptions,
  SeenPicture,
} from '../core/pose/pose-service.ts';

/** Loads a pose service with a network of the wanted size, or with the only one it has. */
export type LoadService = (
  model: EstimatorName,
  onProgress: (progress: LoadProgress) => void,
) => Promise<PoseService>;

/** What a stream needs from outside. */
export interface StreamParts {
  readonly loadService: LoadService;
  readonly openFigureSurface: OpenFigureSurface;
}

/** What to run a source with, and by which network. */
export interface StreamOptions extends RunOptions {
  readonly model: EstimatorName;
}

/** Measures a picture and says what to draw on it. */
export type Taker = (seen: SeenPicture) => FigureOverlay;

/** How a stream of pictures ended; a failure comes with the sentence to show. */
export type StreamEnd =
  { readonly kind: 'finished' | 'stopped' } | { readonly kind: 'failed'; readonly sentence: string };

/** Size of the picture in whose pixels the figure is given. */
export type PictureSize = Pick<PoseFrame, 'widthPx' | 'heightPx'>;

/** Draws the figure, on its picture where it comes with one; called while the picture is valid. */
export type Painter = (
  picture: Picture | null,
  size: PictureSize,
  overlay: FigureOverlay,
  timing: FrameTiming,
) => void;

/** Loading is told in whole steps of this size: more often nobody reads it. */
const TOLD_BYTES = 1e6;

/**
 * Runs one source at a time through the pose service. The service is loaded when the first source starts and kept for
 * the next. Pictures never become state: they are painted at once and forgotten.
 */
export class PictureStream {
  readonly #parts: StreamParts;
  #painters: readonly Painter[] = [];
  #service: PoseService | null = null;
  /** The size of network that was asked for last; the service may have another, where it has only one. */
  #askedModel: EstimatorName | null = null;
  /** Settles when the source before has ended: two sources must never feed one service. */
  #before: Promise<unknown> = Promise.resolve();
  /** The source asked for last; one that was overtaken while it waited never starts. */
  #latest: FrameSource | null = null;
  #source = $state.raw<FrameSource | null>(null);
  #tile = $state.raw<PictureTile | null>(null);
  #isTileOff = $state(false);
  #isPreparing = $state(false);
  #progress = $state.raw<LoadProgress | null>(null);

  constructor(parts: StreamParts) {
    this.#parts = parts;
  }

  /** The source that runs, or null. */
  get source(): FrameSource | null {
    return this.#source;
  }

  /** The part of the shared picture that is measured; null for the whole. */
  get tile(): PictureTile | null {
    return this.#tile;
  }

  /** True while the shared picture has another size than when its tile was framed: nothing is measured. */
  get isTileOff(): boolean {
    return this.#isTileOff;
  }

  /** Measures a part of the shared picture from the next one on; null for the whole. */
  frame(tile: PictureTile | null): void {
    const { feed } = this.#source ?? {};
    if (feed?.kind !== 'live' || feed.framing === null) return;
    feed.framing.frame(tile);
    this.#tile = tile;
    this.#isTileOff = false;
  }

  /** True while the network loads or forgets: no picture comes yet. */
  get isPreparing(): boolean {
    return this.#isPreparing;
  }

  /** How far the files of a network have come, in whole megabytes; null while none is being loaded. */
  get progress(): LoadProgress | null {
    return this.#progress;
  }

  /** Which network gives the landmarks; null before the first source. */
  get identity(): EstimatorIdentity | null {
    return this.#service?.identity ?? null;
  }

  /** Where the network computes; null before the first source. */
  get backend(): PoseBackend | null {
    return this.#service?.backend ?? null;
  }

  /** Paints from now on; call what is returned to end that. */
  watch(painter: Painter): () => void {
    this.#painters = [...this.#painters, painter];
    return () => {
      this.#painters = this.#painters.filter((other) => other !== painter);
    };
  }

  /** Gives a canvas over live pictures away, to be drawn on elsewhere; null where the page must draw itself. */
  openFigure(canvas: HTMLCanvasElement): FigureSurface | null {
    return this.#parts.openFigureSurface(canvas);
  }

  /** Ends the source that runs or waits, if any. */
  stop(): void {
    this.#latest = null;
    this.#source?.stop();
  }

  /** Another least time between two measured pictures of the live source that runs, seconds. */
  pace(liveStepSeconds: number): void {
    this.#service?.pace(liveStepSeconds);
  }

  /**
   * Computes with another size of network as soon as it is loaded; pictures go on meanwhile. False when it could not be
   * loaded: then the one before goes on.
   */
  async change(model: EstimatorName): Promise<boolean> {
    if (this.#service === null) return false;
    const before = this.#askedModel;
    this.#askedModel = model;
    try {
      await this.#service.change(model, (progress) => this.#tell(progress));
      return true;
    } catch (error) {
      if (!(error instanceof EstimatorError)) throw error;
      this.#askedModel = before;
      return false;
    } finally {
      this.#progress = null;
    }
  }

  /**
   * Runs a source to its end and follows the person of the given treated side. Never rejects: a failure of source,
   * service or consumer is an end with a sentence, and the next source starts with a new service.
   */
  run(source: FrameSource, options: StreamOptions, take: Taker): Promise<StreamEnd> {
    this.stop();
    this.#latest = source;
    const end = this.#before.then(() => this.#runAlone(source, options, take));
    this.#before = end;
    return end;
  }

  async #runAlone(source: FrameSource, options: StreamOptions, take: Taker): Promise<StreamEnd> {
    if (this.#latest !== source) {
      source.stop();
      return { kind: 'stopped' };
    }
    this.#source = source;
    this.#tile = null;
    this.#isTileOff = false;
    this.#isPreparing = true;
    try {
      const service = await this.#prepare(options.model);
      const end = await service.run(source, options, (seen) => this.#consume(seen, take));
      return end.kind === 'failed' ? { kind: 'failed', sentence: sourceSentence(end.problem) } : end;
    } catch (error) {
      source.stop();
      this.#forgetService();
      return {
        kind: 'failed',
        sentence: estimatorSentence(error instanceof EstimatorError ? error.problem : 'failed'),
      };
    } finally {
      this.#isPreparing = false;
      this.#source = null;
    }
  }

  async #prepare(model: EstimatorName): Promise<PoseService> {
    if (this.#service !== null) {
      if (model === this.#askedModel || (await this.change(model))) return this.#service;
      // Where the other size cannot be had, the one that is there measures as well; several looks were asked for on purpose.
      if (model === 'combined')
        throw new EstimatorError('model-missing', 'Not all networks could be loaded.');
      return this.#service;
    }
    try {
      this.#service = await this.#parts.loadService(model, (progress) => this.#tell(progress));
      this.#askedModel = model;
      return this.#service;
    } finally {
      this.#progress = null;
    }
  }

  #consume(seen: SeenPicture, take: Taker): void {
    this.#isPreparing = false;
    this.#isTileOff = seen.isTileOff === true;
    const overlay = take(seen);
    for (const paint of this.#painters) paint(seen.picture, seen.frame, overlay, seen.timing);
  }

  #tell(progress: LoadProgress): void {
    const steps = ({ loadedBytes }: LoadProgress): number => Math.floor(loadedBytes / TOLD_BYTES);
    const isNew =
      this.#progress === null ||
      this.#progress.totalBytes !== progress.totalBytes ||
      steps(this.#progress) !== steps(progress) ||
      progress.loadedBytes >= progress.totalBytes;
    if (isNew) this.#progress = progress;
  }

  /** After a failure the next source starts with a new service. */
  #forgetService(): void {
    this.#service?.dispose();
    this.#service = null;
    this.#askedModel = null;
  }
}
