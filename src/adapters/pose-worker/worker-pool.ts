import type { EstimatorName, LoadProgress } from '../../core/pose/pose-service.ts';
import type { FromPoseWorker, LoadRequest } from './messages.ts';
import { type Breakage, type Loaded, PoseWorkerLink } from './pose-worker-link.ts';

/** What workers are made of. */
export interface PoolParts {
  /** Starts a worker that runs pose-worker.ts. */
  readonly spawn: () => Worker;
  /** Where models/files is served, with a slash at the end. */
  readonly modelBase: string;
  /** Where to compute; 'any' takes the graphics processor where there is one. */
  readonly backend: LoadRequest['backend'];
}

/** Who hears what workers say, and that one of them broke down. It has been taken out of the pool by then. */
export interface PoolListener {
  hear(link: PoseWorkerLink, message: FromPoseWorker): void;
  broke(link: PoseWorkerLink, breakage: Breakage): void;
}

/**
 * The pose workers of a page, all with the same network at the same kind of processor. A graphics processor that is lost
 * once is given up: from then on all compute on the processor.
 */
export class WorkerPool {
  readonly #parts: PoolParts;
  readonly #listener: PoolListener;
  readonly #links: PoseWorkerLink[] = [];
  #starting: Promise<PoseWorkerLink> | null = null;
  #wish: LoadRequest['backend'];
  #model: EstimatorName;
  #loaded: Loaded | null = null;
  #isDisposed = false;

  constructor(parts: PoolParts, model: EstimatorName, listener: PoolListener) {
    this.#parts = parts;
    this.#model = model;
    this.#wish = parts.backend;
    this.#listener = listener;
  }

  /** The workers that are ready. */
  get links(): readonly PoseWorkerLink[] {
    return this.#links;
  }

  /** What the workers compute with. */
  get loaded(): Loaded {
    if (this.#loaded === null) throw new Error('WorkerPool: it has not been started.');
    return this.#loaded;
  }

  /** A worker that is ready; starts one when there is none. Rejects with an EstimatorError. */
  async first(onProgress: (progress: LoadProgress) => void = () => undefined): Promise<PoseWorkerLink> {
    const [link] = this.#links;
    if (link !== undefined) return link;
    this.#starting ??= this.#start(onProgress).finally(() => {
      this.#starting = null;
    });
    return this.#starting;
  }

  /** One more worker; false when it cannot be had, or would compute otherwise than the others. */
  async another(): Promise<boolean> {
    const link = this.#spawn();
    const request = this.#request();
    try {
      const loaded = await link.load(request, () => undefined);
      const isStillWanted = request.model === this.#model && request.backend === this.#wish;
      const { runtime } = this.loaded.identity;
      if (isStillWanted && loaded.identity.runtime === runtime && !this.#isDisposed) {
        this.#links.push(link);
        return true;
      }
    } catch {
      // The others go on without it.
    }
    link.close();
    return false;
  }

  /** Closes all workers but one. */
  closeOthers(): void {
    for (const link of this.#links.splice(1)) link.close();
  }

  /** Another size of network for a single worker; the others are closed. */
  async change(model: EstimatorName, onProgress: (progress: LoadProgress) => void): Promise<void> {
    this.#model = model;
    this.closeOthers();
    const [link] = this.#links;
    if (link === undefined) await this.first(onProgress);
    else this.#loaded = await link.load(this.#request(), onProgress);
  }

  dispose(): void {
    this.#isDisposed = true;
    for (const link of this.#links.splice(0)) link.close();
  }

  async #start(onProgress: (progress: LoadProgress) => void): Promise<PoseWorkerLink> {
    const link = this.#spawn();
    this.#loaded = await link.load(this.#request(), onProgress);
    if (this.#isDisposed) link.close();
    else this.#links.push(link);
    return link;
  }

  #spawn(): PoseWorkerLink {
    const link = new PoseWorkerLink(this.#parts.spawn());
    link.onMessage = (message) => this.#listener.hear(link, message);
    link.onBreakage = (breakage) => this.#lose(link, breakage);
    return link;
  }

  #lose(link: PoseWorkerLink, breakage: Breakage): void {
    const at = this.#links.indexOf(link);
    // One that breaks down while it loads is told by load() itself.
    if (at < 0 || this.#isDisposed) return;
    this.#links.splice(at, 1);
    if (breakage !== 'gpu-lost') return this.#listener.broke(link, breakage);
    this.#wish = 'cpu';
    const others = this.#links.splice(0);
    for (const other of others) other.close();
    for (const lost of [link, ...others]) this.#listener.broke(lost, 'gpu-lost');
  }

  #request(): LoadRequest {
    return { kind: 'load', modelBase: this.#parts.modelBase, model: this.#model, backend: this.#wish };
  }
}
