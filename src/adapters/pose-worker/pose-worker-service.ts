import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import type { FrameSource, SourceEnd } from '../../core/pose/frame-source.ts';
import type {
  LoadProgress,
  PoseModel,
  PoseService,
  RunOptions,
  SeenPicture,
} from '../../core/pose/pose-service.ts';
import { LiveRun } from './live-run.ts';
import type { LoadRequest } from './messages.ts';
import { type Breakage, type Loaded, PoseWorkerLink } from './pose-worker-link.ts';

/** Workers that may break down in one run before it is given up: one may be an accident, three are not. */
const MOST_BREAKAGES = 3;

/** What a service over workers needs from outside. */
export interface PoseWorkerParts {
  /** Starts a worker that runs pose-worker.ts. */
  readonly spawn: () => Worker;
  /** Where models/files is served, with a slash at the end. */
  readonly modelBase: string;
  /** Where to compute; 'any' takes the graphics processor where there is one. */
  readonly backend: LoadRequest['backend'];
}

/** Starts a worker and loads a network in it. Rejects with an EstimatorError. */
export async function openPoseWorkerService(
  parts: PoseWorkerParts,
  model: PoseModel,
  onProgress: (progress: LoadProgress) => void,
): Promise<PoseService> {
  const service = new PoseWorkerService(parts, model);
  await service.start(onProgress);
  return service;
}

/** Whole sources measured by workers. A worker that breaks down is replaced, and the run goes on. */
class PoseWorkerService implements PoseService {
  readonly #parts: PoseWorkerParts;
  #model: PoseModel;
  #wish: LoadRequest['backend'];
  #link: PoseWorkerLink | null = null;
  #loaded: Loaded | null = null;
  #live: LiveRun | null = null;
  #runs = 0;
  #breakages = 0;
  #isDisposed = false;

  constructor(parts: PoseWorkerParts, model: PoseModel) {
    this.#parts = parts;
    this.#model = model;
    this.#wish = parts.backend;
  }

  get identity() {
    return this.#now().identity;
  }

  get backend() {
    return this.#now().backend;
  }

  async start(onProgress: (progress: LoadProgress) => void): Promise<void> {
    const link = new PoseWorkerLink(this.#parts.spawn());
    link.onBreakage = (breakage) => this.#replace(link, breakage);
    link.onMessage = (message) => this.#live?.hear(message);
    this.#link = link;
    this.#loaded = await link.load(this.#request(), onProgress);
  }

  async run(source: FrameSource, options: RunOptions, take: (seen: SeenPicture) => void): Promise<SourceEnd> {
    const { feed } = source;
    if (feed.kind === 'clip') throw new Error('not yet');
    const live = new LiveRun({ source, stream: feed.stream, whenEnded: feed.whenEnded, options, take });
    this.#live = live;
    this.#breakages = 0;
    try {
      if (this.#link === null) await this.start(() => undefined);
      this.#goOn();
      return await live.ended;
    } finally {
      this.#live = null;
    }
  }

  pace(liveStepSeconds: number): void {
    if (this.#link !== null) this.#live?.pace(this.#link, liveStepSeconds);
  }

  async change(model: PoseModel, onProgress: (progress: LoadProgress) => void): Promise<void> {
    this.#model = model;
    if (this.#link === null) return this.start(onProgress);
    this.#loaded = await this.#link.load(this.#request(), onProgress);
  }

  dispose(): void {
    this.#isDisposed = true;
    this.#link?.close();
    this.#link = null;
  }

  #now(): Loaded {
    if (this.#loaded === null) throw new Error('PoseWorkerService: it has not been started.');
    return this.#loaded;
  }

  #request(): LoadRequest {
    return { kind: 'load', modelBase: this.#parts.modelBase, model: this.#model, backend: this.#wish };
  }

  #goOn(): void {
    this.#runs += 1;
    if (this.#link !== null) this.#live?.goOn(this.#link, this.#runs);
  }

  /** Goes on with another worker: on the processor when the graphics processor was lost. */
  #replace(broken: PoseWorkerLink, breakage: Breakage): void {
    if (this.#isDisposed || this.#link !== broken) return;
    this.#link = null;
    this.#live?.pause();
    if (breakage === 'gpu-lost') this.#wish = 'cpu';
    this.#breakages += 1;
    if (this.#breakages >= MOST_BREAKAGES)
      return this.#live?.fail(new EstimatorError('failed', `Workers broke down, last: ${String(breakage)}`));
    if (this.#live === null) return;
    void this.start(() => undefined).then(
      () => this.#goOn(),
      (error: unknown) => this.#live?.fail(asEstimatorError(error)),
    );
  }
}

function asEstimatorError(error: unknown): EstimatorError {
  return error instanceof EstimatorError
    ? error
    : new EstimatorError('failed', String(error), { cause: error });
}
