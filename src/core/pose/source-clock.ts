/**
 * The clock of a live source: its first picture is at 0. A browser counts a camera's pictures from when the machine was started, which
 * nobody who looks back at a set can read, and which grows without end.
 */
export class SourceClock {
  #zeroSeconds: number | null = null;

  /** A picture's time since the first one, seconds; the first call sets the zero. */
  since(timeSeconds: number): number {
    this.#zeroSeconds ??= timeSeconds;
    return timeSeconds - this.#zeroSeconds;
  }
}
