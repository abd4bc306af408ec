import type { EstimatorError } from '../../core/pose/estimator-problem.ts';
import type { FrameSource, SourceEnd, SourceProblem } from '../../core/pose/frame-source.ts';
import { SourceClock } from '../../core/pose/source-clock.ts';
import type { PictureFraming } from '../../core/pose/picture-framing.ts';
import type { RunOptions, SeenPicture } from '../../core/pose/pose-service.ts';
import { feedLive, type LiveFeed } from './live-feed.ts';
import type { FromPoseWorker, LiveOptions } from './messages.ts';
import type { PoseWorkerLink } from './pose-worker-link.ts';

/** What a live run is about. */
export interface LiveRunFacts {
  readonly source: FrameSource;
  readonly stream: MediaStream;
  readonly framing: PictureFraming | null;
  readonly whenEnded: SourceProblem;
  readonly options: RunOptions;
  readonly take: (seen: SeenPicture) => void;
}

/** One live source measured by one worker after another: when a worker breaks down the next one goes on. */
export class LiveRun {
  readonly ended: Promise<SourceEnd>;
  readonly #facts: LiveRunFacts;
  readonly #track: MediaStreamTrack | undefined;
  readonly #end = Promise.withResolvers<SourceEnd>();
  #number = 0;
  #feed: LiveFeed | null = null;
  #stepSeconds: number;
  /** Of all workers that measure the track: they tell the same times of it. */
  readonly #clock = new SourceClock();

  constructor(facts: LiveRunFacts) {
    this.#facts = facts;
    this.#stepSeconds = facts.options.liveStepSeconds;
    [this.#track] = facts.stream.getVideoTracks();
    this.ended = this.#end.promise.finally(() => {
      this.#feed?.close();
      facts.framing?.onFrame(null);
      facts.source.stop();
    });
    const { stopping } = facts.source;
    const stop = (): void => this.#end.resolve({ kind: 'stopped' });
    if (stopping.aborted) stop();
    stopping.addEventListener('abort', stop, { once: true });
    const gone = (): void => this.#end.resolve({ kind: 'failed', problem: facts.whenEnded });
    if (this.#track === undefined || this.#track.readyState === 'ended') gone();
    this.#track?.addEventListener('ended', gone, { once: true });
  }

  /** Has a worker measure from now on. Runs are numbered by the caller. */
  goOn(link: PoseWorkerLink, number: number): void {
    if (this.#track === undefined) return;
    this.#number = number;
    const { framing } = this.#facts;
    const options: LiveOptions = {
      side: this.#facts.options.side,
      stepSeconds: this.#stepSeconds,
      // A window promises no rate: it gives a picture when something on it changes.
      rateHz: framing === null ? (this.#track.getSettings().frameRate ?? null) : null,
      tile: framing?.tile ?? null,
      skipsRepeats: framing !== null,
    };
    framing?.onFrame((tile) => link.send({ kind: 'tile', tile }));
    this.#feed = feedLive(link, this.#facts.stream, this.#track, number, options);
  }

  /** The worker that measured is gone; another will go on. */
  pause(): void {
    this.#feed = null;
  }

  pace(link: PoseWorkerLink, stepSeconds: number): void {
    this.#stepSeconds = stepSeconds;
    link.send({ kind: 'pace', stepSeconds });
  }

  fail(error: EstimatorError): void {
    this.#end.reject(error);
  }

  hear(message: FromPoseWorker): void {
    if (!('run' in message) || message.run !== this.#number) return;
    if (message.kind === 'frame') this.#see(message);
    // The pictures ended by themselves. A wished end has been told already, and a track that is stopped fires no event.
    if (message.kind === 'end') this.#end.resolve({ kind: 'failed', problem: this.#facts.whenEnded });
    if (message.kind === 'frame' || message.kind === 'passed-over') this.#feed?.ready();
  }

  #see({
    frame,
    workMs,
    networkMs,
    capturedAtMs,
    dropped,
    isTileOff,
  }: Extract<FromPoseWorker, { kind: 'frame' }>): void {
    const latencyMs =
      capturedAtMs === null ? null : performance.timeOrigin + performance.now() - capturedAtMs;
    try {
      const timeSeconds = this.#clock.since(frame.timeSeconds);
      const timed = { ...frame, timeSeconds };
      const timing = { workMs, networkMs, latencyMs, dropped };
      this.#facts.take({ frame: timed, picture: null, timing, isTileOff });
    } catch (error) {
      this.#end.reject(error);
    }
  }
}
