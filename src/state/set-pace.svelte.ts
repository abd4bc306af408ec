import {
  HANDS_FREE,
  secondsToStart,
  stepHandsFree,
  type HandsFree,
  type HandsFreeAction,
  type HandsFreeMoment,
  type NotYet,
} from '../core/exercises/hands-free.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';
import { isFreeHandRaised } from '../core/pose/raised-hand.ts';
import type { LiveReadout } from './live-readout.svelte.ts';
import type { LiveTask } from './live-task.ts';
import type { Settings } from './settings.svelte.ts';

/** What is known beside a picture. */
interface PaceMoment {
  readonly stage: string;
  readonly isPausedByHand: boolean;
  readonly readout: Pick<LiveReadout, 'latest' | 'restingSeconds' | 'hasWorked'>;
  readonly isViewGood: boolean;
  readonly mayBegin: boolean;
}

/** Starts, pauses and ends the sets of a plan without a hand, as far as that is switched on. */
export class SetPace {
  readonly #settings: Settings;
  #state: HandsFree = HANDS_FREE;
  #notYet = $state<NotYet | null>(null);
  #secondsToStart = $state<number | null>(null);

  constructor(settings: Settings) {
    this.#settings = settings;
  }

  /** What keeps the next set from starting by itself; null where it is not to. */
  get notYet(): NotYet | null {
    return this.#notYet;
  }

  /** Whole seconds until the set starts, while the person stands still in position. */
  get secondsToStart(): number | null {
    return this.#secondsToStart;
  }

  /** Forgets what was seen: another source, or another set. */
  forget(): void {
    this.#state = HANDS_FREE;
    this.#notYet = null;
    this.#secondsToStart = null;
  }

  /** Takes in the next picture, and says what begins or ends with it. */
  step(
    picture: PoseFrame,
    { exercise: { exercise, side }, thresholds }: LiveTask,
    { stage, isPausedByHand, readout, isViewGood, mayBegin }: PaceMoment,
  ): HandsFreeAction | null {
    const frame = readout.latest;
    const paceStage = stage === 'paused' && isPausedByHand ? 'paused-by-hand' : stage;
    if (frame === null || !isOfPace(paceStage)) return null;
    const { startsByItself, endsByItself, handPauses } = this.#settings.now;
    const wish = { starts: startsByItself, ends: endsByItself, handPauses };
    const { restingSeconds, hasWorked } = readout;
    const isHandRaised = isFreeHandRaised(picture, side);
    const facts = { frame, isViewGood, mayBegin, isHandRaised, restingSeconds, hasWorked };
    const { state, action } = stepHandsFree(
      this.#state,
      { stage: paceStage, ...facts },
      { exercise, thresholds, wish },
    );
    this.#state = state;
    const isStarting = wish.starts && (paceStage === 'watching' || paceStage === 'paused-by-hand');
    this.#notYet = isStarting ? state.notYet : null;
    const seconds = isStarting ? secondsToStart(state) : null;
    this.#secondsToStart = seconds === null ? null : Math.ceil(seconds);
    return action;
  }
}

function isOfPace(stage: string): stage is HandsFreeMoment['stage'] {
  return ['watching', 'measuring', 'paused', 'paused-by-hand'].includes(stage);
}
