import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import type { FrameSource, SourceEnd } from '../../core/pose/frame-source.ts';
import type {
  EstimatorName,
  LoadProgress,
  PoseService,
  RunOptions,
  SeenPicture,
} from '../../core/pose/pose-service.ts';
import { ClipScheduler } from './clip-scheduler.ts';
import { LiveRun } from './live-run.ts';
import type { Breakage, PoseWorkerLink } from './pose-worker-link.ts';
import { type PoolParts, WorkerPool } from './worker-pool.ts';

/** Workers that may break down in one live run before it is given up: one may be an accident, three are not. */
const MOST_BREAKAGES = 3;

/** What a service over workers needs from outside. */
export interface PoseWorkerParts extends PoolParts {
  /** How many workers measure clips at the most: as many as there are cores. At least 1; live pictures need one. */
  readonly workers: number;
}

/** More workers than this only wait for the decoder and for memory. */
const MOST_WORKERS = 8;

/** How many workers this machine can use for clips: one for each core, at most 8. */
export function workersForClips(): number {
  return Math.min(MOST_WORKERS, Math.max(1, navigator.hardwareConcurrency));
}

/** Starts a worker and loads a network in it. Rejects with an EstimatorError. */
export async function openPoseWorkerService(
  parts: PoseWorkerParts,
  model: EstimatorName,
  onProgress: (progress: LoadProgress) => void,
): Promise<PoseService> {
  const service = new PoseWorkerService(parts, model);
  await service.start(onProgress);
  return service;
}

/** Whole sources measured by workers. A worker that breaks down is replaced, and the run goes on. */
class PoseWorkerService implements PoseService {
  readonly #pool: WorkerPool;
  readonly #clips: ClipScheduler;
  #live: LiveRun | null = null;
  /** The worker that is at the live run. */
  #liveLink: PoseWorkerLink | null = null;
  #runs = 0;
  #breakages = 0;

  constructor(parts: PoseWorkerParts, model: EstimatorName) {
    this.#pool = new WorkerPool(parts, model, {
      hear: (link, message) => {
        this.#clips.hear(link, message);
        if (link === this.#liveLink) this.#live?.hear(message);
      },
      broke: (link, breakage) => {
        this.#clips.broke(link, breakage);
        if (link === this.#liveLink) this.#replace(breakage);
      },
    });
    this.#clips = new ClipScheduler(this.#pool, Math.max(1, parts.workers));
  }

  get identity() {
    return this.#pool.loaded.identity;
  }

  get backend() {
    return this.#pool.loaded.backend;
  }

  async start(onProgress: (progress: LoadProgress) => void): Promise<void> {
    await this.#pool.first(onProgress);
  }

  async run(source: FrameSource, options: RunOptions, take: (seen: SeenPicture) => void): Promise<SourceEnd> {
    const { feed } = source;
    if (feed.kind === 'clip') return this.#clips.run(source, feed.from, options, take);
    const { stream, whenEnded, framing } = feed;
    const live = new LiveRun({ source, stream, whenEnded, framing, options, take });
    this.#live = live;
    this.#breakages = 0;
    try {
      await this.#goOn();
      return await live.ended;
    } finally {
      this.#live = null;
      this.#liveLink = null;
    }
  }

  pace(liveStepSeconds: number): void {
    if (this.#liveLink !== null) this.#live?.pace(this.#liveLink, liveStepSeconds);
  }

  async change(model: EstimatorName, onProgress: (progress: LoadProgress) => void): Promise<void> {
    // All of a clip is measured with one network.
    await this.#clips.whenIdle;
    await this.#pool.change(model, onProgress);
  }

  dispose(): void {
    this.#pool.dispose();
  }

  /** Has a worker that is ready go on with the live run. */
  async #goOn(): Promise<void> {
    const link = await this.#pool.first();
    this.#runs += 1;
    this.#liveLink = link;
    this.#live?.goOn(link, this.#runs);
  }

  /** Goes on with another worker: on the processor when the graphics processor was lost. */
  #replace(breakage: Breakage): void {
    this.#liveLink = null;
    this.#live?.pause();
    this.#breakages += 1;
    if (this.#breakages >= MOST_BREAKAGES)
      return this.#live?.fail(new EstimatorError('failed', `Workers broke down, last: ${String(breakage)}`));
    void this.#goOn().catch((error: unknown) => this.#live?.fail(asEstimatorError(error)));
  }
}

function asEstimatorError(error: unknown): EstimatorError {
  return error instanceof EstimatorError
    ? error
    : new EstimatorError('failed', String(error), { cause: error });
}
