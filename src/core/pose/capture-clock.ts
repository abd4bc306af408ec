/** How long the quickest arrival counts: clocks of cameras drift against the page's by a few milliseconds a minute. */
const WINDOW_MS = 10_000;

/**
 * Tells when a picture was taken where the browser does not: pictures carry the time of a clock whose zero is not known,
 * and the quickest of the last arrivals is taken to have come at once. So the time on the way that every picture needs is
 * left out (a few milliseconds from a camera on this machine), and every further delay is counted.
 */
export class CaptureClock {
  #arrivals: { readonly arrivedMs: number; readonly offsetMs: number }[] = [];

  /** Notes a picture's own time and when it arrived; gives its capture on the clock of arrivals, milliseconds. */
  captured(timeMs: number, arrivedMs: number): number {
    const offsetMs = arrivedMs - timeMs;
    const since = arrivedMs - WINDOW_MS;
    // Only arrivals that could still become the quickest are kept: offsets rise from the first to the last.
    this.#arrivals = this.#arrivals.filter((one) => one.arrivedMs >= since && one.offsetMs < offsetMs);
    this.#arrivals.push({ arrivedMs, offsetMs });
    return timeMs + (this.#arrivals[0]?.offsetMs ?? offsetMs);
  }
}
