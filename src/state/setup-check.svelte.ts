import { setupAdvice, type SetupAdvice } from '../core/feedback/setup-advice.ts';
import type { Side } from '../core/pose/landmark.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';
import { setupFacts } from '../core/pose/setup-facts.ts';

/** A finding must last this long before its sentence takes the place of another: sentences that flicker are not read. */
const SETTLE_SECONDS = 0.8;

/** What to change about the view, settled over a moment. */
export class SetupCheck {
  #advice = $state.raw<SetupAdvice | null>(null);
  #next: SetupAdvice | null = null;
  #nextSinceSeconds = 0;
  #brightness: number | null = null;

  /** Null before the first picture. */
  get advice(): SetupAdvice | null {
    return this.#advice;
  }

  forget(): void {
    this.#advice = null;
    this.#next = null;
    this.#brightness = null;
  }

  /** Looks at the next picture; times rise. */
  take(frame: PoseFrame, side: Side): void {
    // Brightness is looked at only now and then; until the next look the last one holds.
    this.#brightness = frame.brightness ?? this.#brightness;
    const found = setupAdvice(setupFacts({ ...frame, brightness: this.#brightness }, side), side);
    if (found.sentence !== this.#next?.sentence) {
      this.#next = found;
      this.#nextSinceSeconds = frame.timeSeconds;
    }
    const isSettled = frame.timeSeconds - this.#nextSinceSeconds >= SETTLE_SECONDS;
    if (this.#advice === null || (isSettled && this.#advice.sentence !== found.sentence))
      this.#advice = found;
  }
}
