import type { Pause } from '../core/session/cue-log.ts';

/** The pause of a set, while there is one. */
export class SetPause {
  #sinceSeconds: number | null = null;
  #isByHand = false;

  /** True of a pause that a raised hand began: the person goes on with it without a key. */
  get isByHand(): boolean {
    return this.#isByHand;
  }

  /** timeSeconds: of the last picture of the set, by the pictures. */
  begin(timeSeconds: number | null, isByHand: boolean): void {
    this.#sinceSeconds = timeSeconds;
    this.#isByHand = isByHand;
  }

  /** The first picture after the pause: the pause as a whole, once; null when there was none. */
  over(timeSeconds: number): Pause | null {
    const startSeconds = this.#sinceSeconds;
    this.#sinceSeconds = null;
    return startSeconds === null ? null : { startSeconds, endSeconds: timeSeconds };
  }

  /** The set ended in its pause, or before it. */
  forget(): void {
    this.#sinceSeconds = null;
  }
}
