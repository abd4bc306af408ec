import type { RunningFacts } from '../core/feedback/diagnostics-words.ts';
import { speedLine, TOO_SLOW_NOW, verdictSentence } from '../core/feedback/speed-words.ts';
import { isStalled, NO_FLOW, pictureCame, stallSentence, type PictureFlow } from '../core/feedback/stall.ts';
import type { FrameSource } from '../core/pose/frame-source.ts';
import { SpeedLog, speedOf, type PacedPicture } from '../core/pose/picture-speed.ts';
import type { EstimatorName, PoseModel, SeenPicture } from '../core/pose/pose-service.ts';
import {
  beginFit,
  isTooSlowNow,
  stepFit,
  stepSecondsOf,
  withNetwork,
  type SpeedFit,
} from '../core/pose/speed-fit.ts';
import type { ClipLooks, NetworkWish } from '../core/session/preferences.ts';
import type { LiveParts } from './live-parts.ts';
import type { PictureSize, PictureStream } from './picture-stream.svelte.ts';
import { RunningReport } from './running-report.svelte.ts';
import type { Settings } from './settings.svelte.ts';

/** What is known of speed covers so many seconds. */
const LOG_SECONDS = 10;
/** How often what is shown of it changes, milliseconds. */
const SHOW_MS = 500;
const MODELS: readonly PoseModel[] = ['lite', 'full', 'heavy'];

/** In what part of a session a picture came. */
export interface SpeedMoment {
  readonly isMeasuring: boolean;
  /** False once a set of the session was begun: its record names one network. */
  readonly mayChangeModel: boolean;
}

/** Watches how fast pictures are measured, fits network and rate of live sources to the machine, and says what it is. */
export class LiveSpeed {
  /** All of it in figures. */
  readonly report = new RunningReport(() => this.#facts());
  readonly #stream: PictureStream;
  readonly #parts: LiveParts;
  readonly #settings: Settings;
  readonly #log = new SpeedLog(LOG_SECONDS);
  #fit: SpeedFit = beginFit('full', true);
  #source: FrameSource | null = null;
  #flow: PictureFlow = NO_FLOW;
  #size: PictureSize | null = null;
  #isChanging = $state(false);
  #wished: NetworkWish = 'automatic';
  #wasHidden = false;
  #moment: SpeedMoment = { isMeasuring: false, mayChangeModel: true };
  #measuringSinceSeconds: number | null = null;
  #line = $state<string | null>(null);
  #warning = $state<string | null>(null);
  #hint = $state<string | null>(null);
  #isStalled = $state(false);

  constructor(stream: PictureStream, parts: LiveParts, settings: Settings) {
    this.#stream = stream;
    this.#parts = parts;
    this.#settings = settings;
    setInterval(() => this.#show(), SHOW_MS);
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'hidden') this.#wasHidden = true;
    });
  }

  /** What measures a live source now, in one line; null while it is not known. */
  get line(): string | null {
    return this.#line;
  }

  /** What to do about a machine or camera that is too slow, or null. */
  get warning(): string | null {
    return this.#warning;
  }

  /** By the last check between sets, this machine measures too few pictures to judge a set. */
  get isTooSlow(): boolean {
    return this.#fit.verdict === 'too-slow';
  }

  /** What to say in the middle of a set: pictures that do not come, or too few; null when all is well. */
  get hint(): string | null {
    return this.#hint;
  }

  /** True while no picture of a live source comes: what is shown is of a moment long past. */
  get isStalled(): boolean {
    return this.#isStalled;
  }

  /** True while another network is being loaded and the one before goes on. */
  get isChanging(): boolean {
    return this.#isChanging;
  }

  /**
   * What measures a source, and the pace with which it starts. Clips are judged at any speed: theirs is the full network,
   * or several looks, for which no camera waits.
   */
  begin(
    source: FrameSource,
    clipLooks: ClipLooks,
  ): { readonly model: EstimatorName; readonly liveStepSeconds: number } {
    const isLive = source.feed.kind === 'live';
    this.#fit = this.#wishedFit(isLive ? this.#automaticModel() : 'full');
    this.#source = source;
    this.#log.forget();
    this.#flow = NO_FLOW;
    this.#isStalled = false;
    this.#size = null;
    this.#wasHidden = false;
    this.#measuringSinceSeconds = null;
    this.#say(null, null, null);
    const model = !isLive && clipLooks === 'three' ? 'combined' : this.#fit.model;
    return { model, liveStepSeconds: stepSecondsOf(this.#fit) };
  }

  /** The source has ended: nothing is watched any more. */
  end(): void {
    this.#source = null;
    this.#isStalled = false;
    this.#say(null, null, null);
  }

  /** Takes the next picture. */
  take({ frame, timing }: SeenPicture, moment: SpeedMoment): void {
    const nowSeconds = this.#parts.nowSeconds();
    const picture = { arrivedSeconds: nowSeconds, timing };
    this.#log.take(picture);
    this.#flow = pictureCame(this.#flow, nowSeconds);
    this.#size = frame;
    this.#wasHidden &&= document.visibilityState === 'hidden';
    this.#moment = moment;
    if (moment.isMeasuring) this.#measuringSinceSeconds ??= nowSeconds;
    else this.#measuringSinceSeconds = null;
    if (!moment.isMeasuring && this.#source?.feed.kind === 'live') this.#fitTo(picture, moment);
  }

  /** Takes the network that was just chosen, where it may still be changed; else the next source takes it. */
  wish(): void {
    if (this.#source?.feed.kind !== 'live' || !this.#moment.mayChangeModel || this.#isChanging) return;
    void this.#change(this.#wishedFit(this.#automaticModel()));
  }

  #automaticModel(): PoseModel {
    return this.#settings.now.fittedNetwork ?? 'full';
  }

  #wishedFit(automatic: PoseModel): SpeedFit {
    const { network } = this.#settings.now;
    this.#wished = network;
    return network === 'automatic' ? beginFit(automatic, false) : beginFit(network, true);
  }

  #fitTo(picture: PacedPicture, { mayChangeModel }: SpeedMoment): void {
    // A hidden page is slowed down by the browser, and a network that is being loaded slows the one that computes.
    if (this.#isChanging || document.visibilityState === 'hidden') return;
    this.#faceWhatIsThere();
    const before = this.#fit;
    const next = stepFit(before, picture, mayChangeModel);
    if (next.model !== before.model) return void this.#change(next);
    this.#fit = next;
    this.#keepPace(before);
    if (next.verdict !== before.verdict && next.verdict !== 'checking') this.#remember();
  }

  /** Where the wished network cannot be had, the service computes with the one it has. */
  #faceWhatIsThere(): void {
    const there = this.#stream.identity?.model;
    const model = MODELS.find((each) => there === `blazepose-${each}`);
    if (model !== undefined && model !== this.#fit.model) this.#fit = withNetwork(this.#fit, model, true);
  }

  #keepPace(before: SpeedFit): void {
    const stepSeconds = stepSecondsOf(this.#fit);
    if (stepSeconds !== stepSecondsOf(before)) this.#stream.pace(stepSeconds);
  }

  async #change(wished: SpeedFit): Promise<void> {
    const source = this.#source;
    const before = this.#fit;
    this.#isChanging = true;
    const isChanged = await this.#stream.change(wished.model);
    this.#isChanging = false;
    if (source !== this.#source) return;
    // What could not be loaded is not wished again for this source.
    this.#fit = isChanged ? wished : withNetwork(before, before.model, true);
    this.#keepPace(before);
    this.#log.forget();
    if (this.#settings.now.network !== this.#wished) this.wish();
  }

  #remember(): void {
    const { network, fittedNetwork } = this.#settings.now;
    const { model } = this.#fit;
    if (network !== 'automatic' || model === 'heavy' || model === fittedNetwork) return;
    this.#settings.change({ fittedNetwork: model });
  }

  #show(): void {
    if (this.#source?.feed.kind !== 'live') return;
    const nowSeconds = this.#parts.nowSeconds();
    const wasStalled = this.#isStalled;
    this.#isStalled = isStalled(this.#flow, nowSeconds);
    if (this.#isStalled && !wasStalled && this.#moment.isMeasuring) this.#sound();
    const speed = this.#fit.speed === null ? null : speedOf(this.#log.since(nowSeconds - LOG_SECONDS));
    const line = speed === null ? null : speedLine(this.#fit.model, speed);
    this.#say(line, this.#verdict(), this.#hintAt(nowSeconds));
  }

  #verdict(): string | null {
    return verdictSentence(this.#fit.verdict, this.#settings.now.network, this.#isShared);
  }

  get #isShared(): boolean {
    return this.#source?.kind === 'shared-window';
  }

  /** Whoever works with both hands does not look at the screen: that nothing is measured any more is heard. */
  #sound(): void {
    const { announcer } = this.#parts;
    const { voice, tones } = this.#settings.now;
    const isSaid = voice && announcer.say('No picture comes', 'now');
    if (!isSaid && tones) announcer.tone('correction');
  }

  #hintAt(nowSeconds: number): string | null {
    const isMuted =
      this.#source?.feed.kind === 'live' &&
      this.#source.feed.stream.getVideoTracks().some(({ muted }) => muted);
    const { isMeasuring } = this.#moment;
    const wasHidden = this.#wasHidden;
    const stalled = stallSentence(this.#flow, {
      nowSeconds,
      isMuted,
      wasHidden,
      isShared: this.#isShared,
      isMeasuring,
    });
    if (stalled !== null) return stalled;
    const since = this.#measuringSinceSeconds;
    if (since === null || !isTooSlowNow(this.#log.since(nowSeconds - LOG_SECONDS), since, nowSeconds))
      return null;
    return TOO_SLOW_NOW;
  }

  #say(line: string | null, warning: string | null, hint: string | null): void {
    this.#line = line;
    this.#warning = warning;
    this.#hint = hint;
  }

  #facts(): RunningFacts {
    const { health, software, nowSeconds } = this.#parts;
    return {
      software: `${software.name} ${software.version}`,
      browser: navigator.userAgent,
      identity: this.#stream.identity,
      backend: this.#stream.backend,
      speed: speedOf(this.#log.since(nowSeconds() - LOG_SECONDS)),
      isLive: this.#source?.feed.kind !== 'clip',
      picture: this.#size,
      longestPauseMs: health.longestPauseMs(LOG_SECONDS),
      memoryBytes: health.memoryBytes(),
    };
  }
}
