/** How a One Euro filter trades lag for jitter. */
export interface OneEuroSettings {
  /** Cut-off at rest, hertz: lower is steadier and slower. */
  readonly minCutoffHz: number;
  /** Hertz added to the cut-off for each unit a second of speed: higher follows fast movement with less lag. */
  readonly beta: number;
  /** Cut-off of the speed's own low-pass, hertz. */
  readonly derivativeCutoffHz: number;
  /** What the speed is taken against: the last filtered value, as the authors' code does (default), or the last raw one. */
  readonly speedFrom?: 'filtered' | 'raw';
}

/** Smoothing factor, 0 to 1, of a first-order low-pass with this cut-off, for a step of so many seconds. */
function smoothingFactor(cutoffHz: number, stepSeconds: number): number {
  const tau = 1 / (2 * Math.PI * cutoffHz);
  return 1 / (1 + tau / stepSeconds);
}

/**
 * Speed-adaptive low-pass for a live value. Source: Casiez, Roussel, Vogel, CHI 2012, doi 10.1145/2207676.2208639.
 */
export class OneEuroFilter {
  readonly #settings: OneEuroSettings;
  #value: number | null = null;
  #raw = 0;
  #speed = 0;
  #timeSeconds = 0;

  constructor(settings: OneEuroSettings) {
    this.#settings = settings;
  }

  /**
   * Takes the next raw value at its time and returns the filtered one. The first value passes through. A time that
   * does not rise gives the last filtered value unchanged: no speed can be had from it. speedUnit is one unit of speed in
   * units of the value: with it beta can be meant for shares of a size that changes.
   */
  apply(raw: number, timeSeconds: number, speedUnit = 1): number {
    if (this.#value === null) {
      this.#value = raw;
      this.#raw = raw;
      this.#timeSeconds = timeSeconds;
      return raw;
    }
    const step = timeSeconds - this.#timeSeconds;
    if (!(step > 0)) return this.#value;
    const { minCutoffHz, beta, derivativeCutoffHz, speedFrom } = this.#settings;
    const before = speedFrom === 'raw' ? this.#raw : this.#value;
    const rawSpeed = (raw - before) / step / speedUnit;
    this.#raw = raw;
    this.#speed += smoothingFactor(derivativeCutoffHz, step) * (rawSpeed - this.#speed);
    const cutoffHz = minCutoffHz + beta * Math.abs(this.#speed);
    this.#value += smoothingFactor(cutoffHz, step) * (raw - this.#value);
    this.#timeSeconds = timeSeconds;
    return this.#value;
  }

  /** Forgets everything: the next value passes through. */
  reset(): void {
    this.#value = null;
    this.#speed = 0;
  }
}
