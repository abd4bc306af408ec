import type { PoseFrame } from '../core/pose/pose-frame.ts';
import { CountIn } from './count-in.svelte.ts';
import type { LiveReadout } from './live-readout.svelte.ts';
import type { FinishedSet, SessionKeeping } from './session-keeping.svelte.ts';
import { SetPause } from './set-pause.ts';
import type { Settings } from './settings.svelte.ts';

/** What the run of a set stands on. */
interface SetRunParts {
  readonly keeping: SessionKeeping;
  readonly readout: LiveReadout;
  readonly settings: Settings;
  /** Takes a set that was judged. */
  readonly onSet: (set: FinishedSet, sessionId: string) => void;
}

/** One set from its count-in to its judgement: opened with its first picture, paused, gone on with, finished. */
export class SetRun {
  readonly #parts: SetRunParts;
  readonly #countIn = new CountIn();
  readonly #pause = new SetPause();
  #isOpen = false;
  #isStartedByItself = false;

  constructor(parts: SetRunParts) {
    this.#parts = parts;
  }

  /** Seconds until the set starts, while counting in. */
  get countInSeconds(): number {
    return this.#countIn.secondsLeft;
  }

  /** True once the set has its first picture, until it is finished. */
  get isOpen(): boolean {
    return this.#isOpen;
  }

  get isPausedByHand(): boolean {
    return this.#pause.isByHand;
  }

  /** Counts in; onOver is called at the end. */
  countIn(onOver: () => void): void {
    const { readout, settings } = this.#parts;
    readout.forgetCounts();
    const tell = (secondsLeft: number): void => readout.announce('count-in', 'set-begins', secondsLeft);
    this.#countIn.start(settings.now.countInSeconds, tell, onOver);
  }

  /** Ends a count-in to which no set comes. */
  stopCountIn(): void {
    this.#countIn.stop();
    if (!this.#isOpen) this.#parts.keeping.forgetEarlyCues();
  }

  /** Says that the set begins; it opens with the next picture. */
  begin(isByItself: boolean): void {
    this.#isStartedByItself = isByItself;
    this.#parts.readout.forgetCounts();
    this.#parts.readout.announce('go', 'set-begins');
  }

  pause(isByHand: boolean): void {
    const { readout } = this.#parts;
    this.#pause.begin(readout.latest?.timeSeconds ?? null, isByHand);
    readout.pause(true);
    readout.announce('paused', 'set-stopped');
  }

  resume(): void {
    const { readout } = this.#parts;
    readout.pause(false);
    readout.announce('resumed', 'set-begins');
  }

  /** Records a picture of the set; open: opens the set with its first picture. */
  take(picture: PoseFrame, open: () => void): void {
    const { keeping } = this.#parts;
    if (!this.#isOpen) open();
    this.#isOpen = true;
    const pause = this.#pause.over(picture.timeSeconds);
    if (pause !== null) keeping.notePause(pause);
    keeping.addFrame(picture);
  }

  /** Judges the open set and hands it on; a long one takes its time. */
  async finish(): Promise<void> {
    const { keeping, readout, onSet } = this.#parts;
    // A set that started by itself and in which nobody worked was none; its frames stay in the record all the same.
    const isNone = this.#isStartedByItself && !readout.hasWorked;
    const wasOpen = this.#isOpen;
    readout.endSet();
    this.#isOpen = false;
    this.#isStartedByItself = false;
    this.#pause.forget();
    if (!wasOpen) return;
    await keeping.finishSet();
    const { lastSet, sessionId } = keeping;
    if (lastSet !== null && sessionId !== null && !isNone) onSet(lastSet, sessionId);
  }
}
