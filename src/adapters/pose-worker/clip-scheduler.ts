import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import type { FrameSource, SourceEnd } from '../../core/pose/frame-source.ts';
import type { RunOptions, SeenPicture } from '../../core/pose/pose-service.ts';
import { type ClipSegment, SegmentPlan } from '../../core/pose/segment-plan.ts';
import { ClipRun } from './clip-run.ts';
import type { FromPoseWorker } from './messages.ts';
import type { Breakage, PoseWorkerLink } from './pose-worker-link.ts';
import type { WorkerPool } from './worker-pool.ts';

/** Workers that may break down over one clip before it is given up: one may be an accident, three are not. */
const MOST_BREAKAGES = 3;

/** How long further workers are kept for the next clip, milliseconds: each holds a network in memory. */
const KEPT_MS = 30_000;

/** A clip that is measured. */
interface OpenClip {
  readonly run: ClipRun;
  readonly from: Blob | string;
  readonly options: RunOptions;
  breakages: number;
}

/** What a worker is at. */
interface Post {
  readonly number: number;
  /** Clips that it has been told of. */
  readonly clips: Set<number>;
  at: ClipSegment | null;
}

/**
 * Has clips measured by all workers of a pool, segment by segment. A worker that breaks down is replaced and its segment
 * measured again, which gives the same frames. Where a graphics processor is lost a clip starts afresh on the processor
 * as long as nothing of it was handed over, and else is given up: its frames would come from two kinds of arithmetic.
 */
export class ClipScheduler {
  readonly #pool: WorkerPool;
  readonly #workers: number;
  readonly #plan = new SegmentPlan();
  readonly #clips = new Map<number, OpenClip>();
  readonly #posts = new Map<PoseWorkerLink, Post>();
  #clipCount = 0;
  #postCount = 0;
  #starting = 0;
  /** False once a further worker could not be had, until the next clip. */
  #canGrow = true;
  #closing: ReturnType<typeof setTimeout> | undefined;
  #idle: PromiseWithResolvers<unknown> = Promise.withResolvers();

  /** Uses at most so many workers, at least 1. */
  constructor(pool: WorkerPool, workers: number) {
    this.#pool = pool;
    this.#workers = workers;
    this.#idle.resolve(null);
  }

  /** Settles when no clip is being measured. */
  get whenIdle(): Promise<unknown> {
    return this.#idle.promise;
  }

  /** Measures a clip; several may be measured at once. Rejects with an EstimatorError. */
  async run(
    source: FrameSource,
    from: Blob | string,
    options: RunOptions,
    take: (seen: SeenPicture) => void,
  ): Promise<SourceEnd> {
    clearTimeout(this.#closing);
    if (this.#clips.size === 0) this.#idle = Promise.withResolvers();
    this.#clipCount += 1;
    const number = this.#clipCount;
    const onFront = (segment: number): void => this.#tellFront(number, segment);
    const run = new ClipRun({ source, options, take, onFront });
    const whole = typeof from === 'string' ? new URL(from, document.baseURI).href : from;
    this.#clips.set(number, { run, from: whole, options, breakages: 0 });
    this.#canGrow = true;
    void this.#ask(number);
    try {
      return await run.ended;
    } finally {
      this.#end(number);
    }
  }

  hear(link: PoseWorkerLink, message: FromPoseWorker): void {
    switch (message.kind) {
      case 'clip-opened': {
        const clip = this.#clips.get(message.clip);
        if (clip === undefined) return;
        const isNew = clip.run.count === 0;
        clip.run.opened(message);
        if (isNew && !clip.run.hasEnded) this.#plan.add(message.clip, clip.run.count);
        return this.#feedAll();
      }
      case 'clip-frame': {
        const run = this.#clips.get(message.clip)?.run;
        if (run === undefined) message.picture?.close();
        else run.frame(message);
        return;
      }
      case 'segment-done': {
        const post = this.#postOf(link);
        // A late answer to a clip that was stopped says nothing of what the worker is at now.
        if (post.at?.clip !== message.clip || post.at.segment !== message.segment) return;
        post.at = null;
        // First its next segment: the worker waits, the page's own work does not hurry.
        this.#feedAll();
        this.#clips.get(message.clip)?.run.done(message);
      }
    }
  }

  /** A worker is gone from the pool. */
  broke(link: PoseWorkerLink, breakage: Breakage): void {
    const post = this.#posts.get(link);
    this.#posts.delete(link);
    if (post !== undefined) this.#plan.release(post.number, post.at);
    for (const [number, clip] of this.#clips) {
      if (breakage === 'gpu-lost') this.#startAfresh(number, clip);
      else if (post?.at?.clip === number || clip.run.count === 0) clip.breakages += 1;
      if (clip.breakages >= MOST_BREAKAGES)
        clip.run.fail(new EstimatorError('failed', `Workers broke down, last: ${String(breakage)}`));
      else if (clip.run.count === 0) void this.#ask(number);
    }
    if (this.#clips.size > 0) void this.#goOn();
  }

  /** Has the first worker that is ready look at a clip. */
  async #ask(number: number): Promise<void> {
    const clip = this.#clips.get(number);
    try {
      const link = await this.#pool.first();
      if (this.#clips.has(number)) this.#tellOf(link, number);
    } catch (error) {
      clip?.run.fail(error);
    }
  }

  async #goOn(): Promise<void> {
    try {
      await this.#pool.first();
      this.#feedAll();
    } catch (error) {
      for (const { run } of this.#clips.values()) run.fail(error);
    }
  }

  #startAfresh(number: number, { run }: OpenClip): void {
    this.#plan.remove(number);
    for (const post of this.#posts.values()) if (post.at?.clip === number) post.at = null;
    if (run.startAfresh()) this.#plan.add(number, run.count);
    else
      run.fail(
        new EstimatorError(
          'failed',
          'The graphics processor was lost in the middle of a clip. Measure it again.',
        ),
      );
  }

  #feedAll(): void {
    for (const link of this.#pool.links) this.#feed(link);
    this.#grow();
  }

  #feed(link: PoseWorkerLink): void {
    const post = this.#postOf(link);
    if (post.at !== null) return;
    const next = this.#plan.next(post.number);
    const clip = next === null ? undefined : this.#clips.get(next.clip);
    if (next === null || clip === undefined) return;
    post.at = next;
    this.#tellOf(link, next.clip);
    link.send({ kind: 'segment', ...next, isLast: next.segment === clip.run.count - 1 });
  }

  /** Starts a further worker where there is work for it; it takes part once it is ready. */
  #grow(): void {
    if (!this.#canGrow || !this.#plan.hasWaiting) return;
    if (this.#pool.links.length + this.#starting >= this.#workers) return;
    this.#starting += 1;
    void this.#pool.another().then((isThere) => {
      this.#starting -= 1;
      if (!isThere) this.#canGrow = false;
      if (this.#clips.size > 0) this.#feedAll();
      else this.#closeLater();
    });
    this.#grow();
  }

  #tellOf(link: PoseWorkerLink, number: number): void {
    const post = this.#postOf(link);
    const clip = this.#clips.get(number);
    if (clip === undefined || post.clips.has(number)) return;
    post.clips.add(number);
    const { side, clipRateHz: rateHz } = clip.options;
    link.send({ kind: 'clip', clip: number, from: clip.from, side, rateHz });
    link.send({ kind: 'clip-front', clip: number, segment: clip.run.front });
  }

  #tellFront(number: number, segment: number): void {
    for (const [link, { clips }] of this.#posts)
      if (clips.has(number)) link.send({ kind: 'clip-front', clip: number, segment });
  }

  #end(number: number): void {
    this.#clips.delete(number);
    this.#plan.remove(number);
    for (const [link, post] of this.#posts) {
      if (post.clips.delete(number)) link.send({ kind: 'clip-end', clip: number });
      if (post.at?.clip === number) post.at = null;
    }
    if (this.#clips.size > 0) return this.#feedAll();
    this.#idle.resolve(null);
    this.#closeLater();
  }

  #closeLater(): void {
    clearTimeout(this.#closing);
    this.#closing = setTimeout(() => {
      this.#pool.closeOthers();
      for (const link of this.#posts.keys()) if (!this.#pool.links.includes(link)) this.#posts.delete(link);
    }, KEPT_MS);
  }

  #postOf(link: PoseWorkerLink): Post {
    const there = this.#posts.get(link);
    if (there !== undefined) return there;
    this.#postCount += 1;
    const post: Post = { number: this.#postCount, clips: new Set(), at: null };
    this.#posts.set(link, post);
    return post;
  }
}
