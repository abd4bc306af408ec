import type { OnShare } from '../../core/session/build-session.ts';
import type { FrameSeries } from '../../core/session/quantised-frames.ts';
import type { Answer, FromJudge, Question, ToJudge } from './messages.ts';

/** The worker is gone, and with it what it was asked. */
export class WorkerLost extends Error {
  constructor() {
    super('The judging worker ended before it had answered.');
  }
}

/** Pieces handed over at once: copying more would hold up the page. */
const PIECES_AT_ONCE = 16;
/** A worker that has not spoken by then never will, milliseconds. */
const LONGEST_START_MS = 20_000;

interface Waiting {
  readonly resolve: (message: FromJudge) => void;
  readonly reject: (error: Error) => void;
  readonly onShare: OnShare | undefined;
}

/** One living worker: questions and answers. Everything asked of it rejects with WorkerLost once it is gone. */
export class JudgingLink {
  readonly #worker: Worker;
  readonly #waiting = new Map<number, Waiting>();
  readonly #starting: ReturnType<typeof setTimeout>;
  #jobs = 0;
  #isLost = false;

  constructor(worker: Worker) {
    this.#worker = worker;
    worker.addEventListener('message', ({ data }: MessageEvent<FromJudge>) => this.#hear(data));
    worker.addEventListener('error', () => this.#lose());
    worker.addEventListener('messageerror', () => this.#lose());
    this.#starting = setTimeout(() => this.#lose(), LONGEST_START_MS);
    this.#lockName = `judging-${crypto.randomUUID()}`;
    this.#post({ kind: 'live', lockName: this.#lockName });
  }

  readonly #lockName: string;

  /** False once the worker is gone. */
  get isLiving(): boolean {
    return !this.#isLost;
  }

  /** A number for the next question. */
  newJob(): number {
    this.#jobs += 1;
    return this.#jobs;
  }

  /** Hands frames over for a question, a few at a time, each when the worker has the ones before. */
  async give(job: number, pieces: Iterable<FrameSeries>): Promise<void> {
    let batch: FrameSeries[] = [];
    const send = async (): Promise<void> => {
      await this.#exchange({ kind: 'pieces', job, pieces: batch }, undefined);
      batch = [];
    };
    for (const piece of pieces) {
      batch.push(piece);
      if (batch.length === PIECES_AT_ONCE) await send();
    }
    if (batch.length > 0) await send();
  }

  /** Asks and waits for the answer. Rejects with WorkerLost, or with the worker's own failure. */
  async ask(job: number, question: Question, onShare?: OnShare): Promise<Answer> {
    const answer = await this.#exchange({ job, ...question }, onShare);
    if (answer.kind === 'failed') throw new Error(`The judging worker failed: ${answer.detail}`);
    if (answer.kind === 'living' || answer.kind === 'taken' || answer.kind === 'share')
      throw new Error(`The judging worker answered "${answer.kind}".`);
    return answer;
  }

  #exchange(message: ToJudge & { readonly job: number }, onShare: OnShare | undefined): Promise<FromJudge> {
    if (this.#isLost) return Promise.reject(new WorkerLost());
    return new Promise((resolve, reject) => {
      this.#waiting.set(message.job, { resolve, reject, onShare });
      this.#post(message);
    });
  }

  #post(message: ToJudge): void {
    this.#worker.postMessage(message);
  }

  #hear(message: FromJudge): void {
    if (message.kind === 'living') return this.#watch();
    const waiting = this.#waiting.get(message.job);
    if (message.kind === 'share') return waiting?.onShare?.(message.share);
    this.#waiting.delete(message.job);
    waiting?.resolve(message);
  }

  /** The worker holds its lock now: this page gets it when the worker has ended, in whatever way. */
  #watch(): void {
    clearTimeout(this.#starting);
    void navigator.locks.request(this.#lockName, () => this.#lose());
  }

  #lose(): void {
    if (this.#isLost) return;
    this.#isLost = true;
    clearTimeout(this.#starting);
    this.#worker.terminate();
    for (const { reject } of this.#waiting.values()) reject(new WorkerLost());
    this.#waiting.clear();
  }
}
