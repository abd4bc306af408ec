import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import type { EstimatorIdentity } from '../../core/pose/pose-estimator.ts';
import type { LoadProgress } from '../../core/pose/pose-service.ts';
import type { FromPoseWorker, LoadRequest, ToPoseWorker } from './messages.ts';

/** How often a worker is asked whether it is still there, and how many silent answers make it dead. */
const PING_MS = 2000;
const MOST_SILENT_PINGS = 4;
/** It answers between two pictures, and one with several looks takes 5 to 8 times as long. */
const MOST_SILENT_PINGS_COMBINED = 20;

/** What a worker said of its network. */
export interface Loaded {
  readonly identity: EstimatorIdentity;
  readonly backend: 'gpu' | 'cpu';
}

/** Why a worker cannot be used any more. */
export type Breakage = 'gpu-lost' | 'dead' | EstimatorError;

/** One pose worker, as the page sees it. */
export class PoseWorkerLink {
  readonly #worker: Worker;
  #silentPings = 0;
  #mostSilentPings = MOST_SILENT_PINGS;
  #timer: ReturnType<typeof setInterval> | undefined;
  #isClosed = false;
  #loading: PromiseWithResolvers<Loaded> | null = null;
  #onProgress: (progress: LoadProgress) => void = () => undefined;
  /** What the worker says of a run. */
  onMessage: (message: FromPoseWorker) => void = () => undefined;
  /** Called once when the worker broke down. */
  onBreakage: (breakage: Breakage) => void = () => undefined;

  /** Takes a worker that runs pose-worker.ts. */
  constructor(worker: Worker) {
    this.#worker = worker;
    worker.addEventListener('message', ({ data }: MessageEvent<FromPoseWorker>) => this.#hear(data));
    worker.addEventListener('error', (event) => {
      event.preventDefault();
      this.#break(new EstimatorError('failed', `The pose worker broke down: ${event.message}`));
    });
  }

  /** Loads runtime and network. Rejects with an EstimatorError. */
  async load(request: LoadRequest, onProgress: (progress: LoadProgress) => void): Promise<Loaded> {
    this.#loading = Promise.withResolvers();
    this.#onProgress = onProgress;
    this.#mostSilentPings = request.model === 'combined' ? MOST_SILENT_PINGS_COMBINED : MOST_SILENT_PINGS;
    // Compiling a network keeps the worker silent for as long as it takes.
    this.#stopPings();
    this.send(request);
    const loaded = await this.#loading.promise;
    this.#loading = null;
    this.#silentPings = 0;
    if (!this.#isClosed) this.#timer = setInterval(() => this.#ping(), PING_MS);
    return loaded;
  }

  /** Sends a message; what is to be transferred is not there any more afterwards. */
  send(message: ToPoseWorker, transfer: Transferable[] = []): void {
    this.#worker.postMessage(message, transfer);
  }

  /** Ends the worker. */
  close(): void {
    this.#isClosed = true;
    this.#stopPings();
    this.#worker.terminate();
  }

  #hear(message: FromPoseWorker): void {
    this.#silentPings = 0;
    switch (message.kind) {
      case 'pong':
        return;
      case 'progress':
        return this.#onProgress(message);
      case 'loaded':
        return this.#loading?.resolve(message);
      case 'failed':
        return this.#break(
          message.problem === 'gpu-lost' ? 'gpu-lost' : new EstimatorError(message.problem, message.detail),
        );
      default:
        this.onMessage(message);
    }
  }

  #ping(): void {
    if (this.#silentPings >= this.#mostSilentPings) return this.#break('dead');
    this.#silentPings += 1;
    this.send({ kind: 'ping' });
  }

  #stopPings(): void {
    clearInterval(this.#timer);
  }

  #break(breakage: Breakage): void {
    if (this.#isClosed) return;
    this.close();
    this.#loading?.reject(
      breakage instanceof EstimatorError
        ? breakage
        : new EstimatorError('failed', `Pose worker: ${breakage}.`),
    );
    this.onBreakage(breakage);
  }
}
