import type { ExerciseSettings } from '../core/exercises/exercise.ts';
import type { ViewOutline } from '../core/exercises/view-outline.ts';
import type { Announcer } from '../core/feedback/announcer.ts';
import type { SetupAdvice } from '../core/feedback/setup-advice.ts';
import { estimatorSentence } from '../core/feedback/source-problems.ts';
import type { FigureOverlay } from '../core/pose/figure-overlay.ts';
import type { FrameSource, OpenedSource } from '../core/pose/frame-source.ts';
import type { PictureTile } from '../core/pose/picture-tile.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';
import type { SeenPicture } from '../core/pose/pose-service.ts';
import type { ClipLooks } from '../core/session/preferences.ts';
import type { DemoClip } from '../core/session/source-opener.ts';
import { ClipCourse, type ClipProgress } from './clip-progress.svelte.ts';
import type { SetPace } from './set-pace.svelte.ts';
import type { LiveParts } from './live-parts.ts';
import { LiveReadout } from './live-readout.svelte.ts';
import { chosenTask, freeTask, targetRange, type AskedWork, type LiveTask } from './live-task.ts';
import { LiveSpeed } from './live-speed.svelte.ts';
import { PictureStream, type StreamEnd } from './picture-stream.svelte.ts';
import { SessionKeeping } from './session-keeping.svelte.ts';
import { SetRun } from './set-run.svelte.ts';
import { SourceLists } from './source-lists.svelte.ts';
import type { Settings } from './settings.svelte.ts';
import { SetupCheck } from './setup-check.svelte.ts';
import { SourceOpening } from './source-opening.ts';
import { VideoWish } from './video-wish.svelte.ts';

/**
 * none: no source. opening: the browser asks, or a clip's header is read. watching: pictures come and nothing is
 * recorded. counting-in: time to walk into place. measuring: a set is recorded. paused: it is not, for a while.
 * finishing: it is judged.
 */
export type Stage = 'none' | 'opening' | 'watching' | 'counting-in' | 'measuring' | 'paused' | 'finishing';

/** What is to be measured, and how a clip is. */
interface RunWish {
  readonly task: LiveTask;
  readonly clipLooks: ClipLooks;
}

/** Pictures of a clip that are measured a second of its time: more cost time and tell hardly more of slow exercise. */
const CLIP_RATE_HZ = 15;

/** One session from the first picture to the kept record: opens a source, runs its sets, hands frames to where they go. */
export class LiveSession {
  readonly stream: PictureStream;
  readonly speed: LiveSpeed;
  readonly readout: LiveReadout;
  readonly keeping: SessionKeeping;
  readonly video: VideoWish;
  readonly lists: SourceLists;
  readonly #parts: LiveParts;
  readonly #settings: Settings;
  readonly #setup = new SetupCheck();
  readonly #clip: ClipCourse;
  readonly #set: SetRun;
  readonly #opening = new SourceOpening();
  #stage = $state<Stage>('none');
  #problem = $state<string | null>(null);
  #task = $state.raw<LiveTask | null>(null);
  /** What the plan asks for now; null in free use. */
  #asked = $state.raw<AskedWork | null>(null);
  /** What starts and ends sets without a hand; loaded with the first source. */
  #pace = $state.raw<SetPace | null>(null);

  constructor(parts: LiveParts, settings: Settings) {
    this.#parts = parts;
    this.#settings = settings;
    this.stream = new PictureStream(parts);
    this.speed = new LiveSpeed(this.stream, parts, settings);
    this.readout = new LiveReadout(parts.announcer, settings, (cue) => this.keeping.noteCue(cue));
    this.keeping = new SessionKeeping(parts);
    this.video = new VideoWish(parts.videos);
    this.#set = new SetRun({
      keeping: this.keeping,
      readout: this.readout,
      settings,
      onSet: (set, sessionId) => this.#asked?.onSet(set, sessionId),
    });
    this.lists = new SourceLists(parts.sources);
    this.#clip = new ClipCourse(parts.nowSeconds);
  }

  /** What speaks and sounds. */
  get sound(): Announcer {
    return this.#parts.announcer;
  }

  get stage(): Stage {
    return this.#stage;
  }

  /** The sentence for what went wrong last with source, network or storage, or null. */
  get problem(): string | null {
    return this.#problem ?? this.keeping.problem;
  }

  /** What to change about the view; null before the first picture. */
  get advice(): SetupAdvice | null {
    return this.#setup.advice;
  }

  /** What must be in view, as it lies in the latest picture before a set; null while nobody is found. */
  get outline(): ViewOutline | null {
    return this.#setup.outline;
  }

  /** The exercise of the session; null before a source was opened. */
  get exercise(): ExerciseSettings | null {
    return this.#task?.exercise ?? null;
  }

  /** How far the clip is; null for a live source. */
  get clipProgress(): ClipProgress | null {
    return this.#clip.progress;
  }

  /** Seconds until the set starts, while counting in. */
  get countInSeconds(): number {
    return this.#set.countInSeconds;
  }

  /** What starts and ends the sets of a plan by itself; null before the first source. */
  get pace(): Pick<SetPace, 'notYet' | 'secondsToStart'> | null {
    return this.#pace;
  }

  /** The target range of the elbow, degrees; null where the exercise has none. */
  get targetRange(): { readonly low: number; readonly high: number } | null {
    return this.#task === null ? null : targetRange(this.#task);
  }

  /** What sources are opened for from now on: work of a plan, or null for whatever is chosen on the first screen. */
  askFor(asked: AskedWork | null): void {
    this.#asked = asked;
  }

  /** Opens the camera chosen in the settings, where it is still there, and watches it. */
  async openCamera(): Promise<void> {
    const { cameraId } = this.#settings.now;
    const isThere = this.lists.cameras.some(({ id }) => id === cameraId);
    await this.#open(this.#parts.sources.openCamera(isThere ? cameraId : null));
  }

  /** Lets a window be chosen and watches it. */
  async openSharedWindow(): Promise<void> {
    await this.#open(this.#parts.sources.openSharedWindow());
  }

  /** Measures a clip from its start to its end, as one set. */
  async openClip(file: File): Promise<void> {
    await this.#open(this.#parts.sources.openClip(file));
  }

  /** Measures a clip with three looks at each picture, whatever is chosen: a new session beside the one it came from. */
  async openClipAgain(file: File, exercise: ExerciseSettings): Promise<void> {
    await this.#open(this.#parts.sources.openClip(file), freeTask(exercise), 'three');
  }

  /** Measures a clip that comes with the app, with its own exercise, side and height. */
  async openDemo(clip: DemoClip): Promise<void> {
    await this.#open(this.#parts.sources.openDemo(clip), this.#asked?.task ?? freeTask(clip.settings));
  }

  /** Measures a part of the shared picture, or the whole. Between sets only: of a set one part is measured. */
  frame(tile: PictureTile | null): void {
    if (this.#stage !== 'watching') return;
    this.#setup.forget();
    this.stream.frame(tile);
  }

  /** Starts the next set after the count-in. Not while another network is being loaded: a set is measured by one. */
  startSet(): void {
    if (this.#stage !== 'watching' || this.speed.isChanging || this.stream.isTileOff) return;
    this.#stage = 'counting-in';
    this.#set.countIn(() => this.#begin(false));
  }

  /** Pauses the set that runs: nothing is recorded until it goes on. A clip cannot be paused. */
  pauseSet(isByHand = false): void {
    if (this.#stage !== 'measuring' || !this.#set.isOpen || this.#clip.progress !== null) return;
    this.#stage = 'paused';
    this.#set.pause(isByHand);
  }

  /** Goes on with a paused set. */
  resumeSet(): void {
    if (this.#stage !== 'paused') return;
    this.#stage = 'measuring';
    this.#set.resume();
  }

  /** Ends the set that runs, or the count-in to it. A clip ends with its set. */
  async endSet(): Promise<void> {
    if (this.#stage === 'counting-in') {
      this.#set.stopCountIn();
      this.#stage = 'watching';
    } else if (this.#clip.progress !== null) this.stream.stop();
    else if (this.#isInSet) {
      this.readout.announce('stopped', 'set-stopped');
      await this.#finishSet('watching');
    }
  }

  /** Ends set and session. The session's id when all of it is kept, else null: then the problem says why. */
  async endSession(): Promise<string | null> {
    this.#set.stopCountIn();
    this.#opening.forget();
    if (this.#isInSet) await this.#finishSet('finishing');
    this.stream.stop();
    this.#parts.keepAwake(false);
    const sessionId = await this.keeping.finish();
    this.#stage = 'none';
    if (sessionId !== null) this.keeping.forget();
    return sessionId;
  }

  /** Closes a source of which nothing was recorded. */
  close(): void {
    this.#opening.forget();
    this.#set.stopCountIn();
    this.stream.stop();
    this.#parts.keepAwake(false);
    this.#stage = 'none';
  }

  async #open(
    opening: Promise<OpenedSource>,
    task = this.#asked?.task ?? chosenTask(this.#settings.now),
    clipLooks = this.#settings.now.clipLooks,
  ): Promise<void> {
    this.stream.stop();
    this.keeping.forget();
    this.keeping.sayPainBefore(this.#asked?.painBefore ?? null);
    this.#asked?.onOpen();
    this.#problem = null;
    this.#clip.end();
    this.#stage = 'opening';
    const opened = await this.#opening.open(opening, () => this.#load());
    if (opened === null) return;
    if (opened.source !== null) return this.#run(opened.source, { task, clipLooks }, opened.isLatest);
    this.#problem = opened.sentence;
    this.#stage = 'none';
  }

  /** Loads what measures and judges. The sentence for why it could not be, or null. */
  async #load(): Promise<string | null> {
    try {
      await Promise.all([this.readout.load(), this.#setup.load()]);
      this.#pace ??= new (await import('./set-pace.svelte.ts')).SetPace(this.#settings);
      return null;
    } catch {
      return estimatorSentence('failed');
    }
  }

  async #run(source: FrameSource, { task, clipLooks }: RunWish, isLatest: () => boolean): Promise<void> {
    const isClip = source.kind === 'clip' || source.kind === 'demo';
    this.#task = task;
    this.#setup.forget();
    this.#pace?.forget();
    this.readout.prepare(task);
    if (isClip) this.#clip.begin();
    this.#stage = isClip ? 'measuring' : 'watching';
    this.#parts.keepAwake(true);
    // Browsers name the cameras only once one of them was allowed.
    if (source.kind === 'camera') void this.lists.listCameras();
    const options = {
      ...this.speed.begin(source, clipLooks),
      side: task.exercise.side,
      clipRateHz: CLIP_RATE_HZ,
      onProgress: (share: number) => this.#clip.note(share),
    };
    const end = await this.stream.run(source, options, (seen) => this.#take(seen, source, task));
    if (isLatest()) await this.#ended(end);
  }

  #take(seen: SeenPicture, source: FrameSource, task: LiveTask): FigureOverlay {
    const { frame } = seen;
    const estimator = this.stream.identity;
    if (estimator === null) throw new Error('LiveSession: a picture came without an estimator.');
    const isMeasuring = this.#stage === 'measuring';
    const mayChangeModel = this.#stage === 'watching' && this.keeping.setCount === 0;
    this.speed.take(seen, { isMeasuring, mayChangeModel });
    if (isMeasuring) {
      this.#set.take(frame, () => {
        const { widthPx, heightPx } = frame;
        const { tile } = this.stream;
        this.keeping.beginSet({ ...task, source, tile, estimator, widthPx, heightPx });
        this.readout.beginSet(this.#asked?.nextSet() ?? null);
        this.#asked?.onBegin();
        this.video.begin(source, this.keeping, frame.timeSeconds);
      });
    } else this.#setup.take(frame, task.exercise, source.kind === 'shared-window');
    const overlay = this.readout.take(frame, estimator.model);
    this.#stepPace(frame, source, task);
    return overlay;
  }

  /** Sets of a plan start and end without a hand; a clip is measured to its end. */
  #stepPace(picture: PoseFrame, { feed }: FrameSource, task: LiveTask): void {
    if (this.#asked === null || feed.kind !== 'live' || this.speed.isChanging) return;
    const action = this.#pace?.step(picture, task, {
      stage: this.#stage,
      isPausedByHand: this.#set.isPausedByHand,
      readout: this.readout,
      isViewGood: this.#setup.advice?.isUsable ?? false,
      mayBegin: this.#asked.mayBegin(),
    });
    if (action === 'start') this.#begin(true);
    else if (action === 'pause') this.pauseSet(true);
    else if (action === 'resume') this.resumeSet();
    else if (action === 'end') void this.#finishSet('watching');
  }

  #begin(isByItself: boolean): void {
    this.#set.begin(isByItself);
    this.#stage = 'measuring';
  }

  get #isInSet(): boolean {
    return this.#stage === 'measuring' || this.#stage === 'paused';
  }

  /** Judges the open set; a long one takes its time, which the stage tells. */
  async #finishSet(then: Stage): Promise<void> {
    this.#stage = 'finishing';
    this.#pace?.forget();
    // Not waited for: judging goes on while the last second is written.
    void this.video.end();
    await this.#set.finish();
    if (this.#stage === 'finishing') this.#stage = then;
  }

  async #ended(end: StreamEnd): Promise<void> {
    this.#set.stopCountIn();
    this.speed.end();
    this.#parts.keepAwake(false);
    if (end.kind === 'failed') this.#problem = end.sentence;
    // A camera that is gone in the middle of a set is heard, not only seen.
    if (end.kind === 'failed' && this.#isInSet) this.readout.announce('stopped', 'set-stopped');
    if (this.#isInSet) await this.#finishSet('none');
    else this.#stage = 'none';
    this.#clip.end();
  }
}
