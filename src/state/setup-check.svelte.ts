import type { ExerciseSettings } from '../core/exercises/exercise.ts';
import type { ViewOutline } from '../core/exercises/view-outline.ts';
import type * as Looking from '../core/feedback/look-at-view.ts';
import type { SetupAdvice } from '../core/feedback/setup-advice.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';

/** A finding must last this long before its sentence takes the place of another: sentences that flicker are not read. */
const SETTLE_SECONDS = 0.8;

/** What to change about the view, settled over a moment. */
export class SetupCheck {
  #lookAtView: typeof Looking.lookAtView | null = null;
  #advice = $state.raw<SetupAdvice | null>(null);
  #outline = $state.raw<ViewOutline | null>(null);
  #next: SetupAdvice | null = null;
  #nextSinceSeconds = 0;
  #brightness: number | null = null;

  /** Null before the first picture. */
  get advice(): SetupAdvice | null {
    return this.#advice;
  }

  /** What must be in view, as it lies in the latest picture; null while nobody is found. */
  get outline(): ViewOutline | null {
    return this.#outline;
  }

  /** Loads what looks at pictures; to be awaited before the first one. */
  async load(): Promise<void> {
    this.#lookAtView ??= (await import('../core/feedback/look-at-view.ts')).lookAtView;
  }

  forget(): void {
    this.#advice = null;
    this.#outline = null;
    this.#next = null;
    this.#brightness = null;
  }

  /** Looks at the next picture; times rise. */
  take(frame: PoseFrame, settings: Pick<ExerciseSettings, 'side' | 'exercise'>, isShared: boolean): void {
    if (this.#lookAtView === null) throw new Error('SetupCheck: load it before the first picture.');
    // Brightness is looked at only now and then; until the next look the last one holds.
    this.#brightness = frame.brightness ?? this.#brightness;
    const looked = { ...frame, brightness: this.#brightness };
    const { advice: found, outline } = this.#lookAtView(looked, settings, isShared);
    this.#outline = outline;
    if (found.sentence !== this.#next?.sentence) {
      this.#next = found;
      this.#nextSinceSeconds = frame.timeSeconds;
    }
    const isSettled = frame.timeSeconds - this.#nextSinceSeconds >= SETTLE_SECONDS;
    if (this.#advice === null || (isSettled && this.#advice.sentence !== found.sentence))
      this.#advice = found;
  }
}
