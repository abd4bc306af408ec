import { median, quantile } from '../math/statistics.ts';
import type { FrameTiming } from './pose-service.ts';

/** A measured picture with the time at which its numbers came. */
export interface PacedPicture {
  /** On the page's clock, seconds; its zero does not matter. */
  readonly arrivedSeconds: number;
  readonly timing: FrameTiming;
}

/** From the capture of a picture to its number, milliseconds. */
interface Latency {
  readonly least: number;
  readonly median: number;
  readonly p95: number;
  readonly largest: number;
}

/** How fast pictures were measured. */
export interface PictureSpeed {
  /** Measured pictures a second. */
  readonly rateHz: number;
  /** Pictures a second that came and were passed over; null where nobody counts them. */
  readonly passedOverHz: number | null;
  readonly workMs: { readonly median: number; readonly p95: number };
  /** The network's part of the work, median; null where it is not told. */
  readonly networkMs: number | null;
  /** Null where it is not told. */
  readonly latencyMs: Latency | null;
  /**
   * How old the number on the screen is at its oldest, just before the next comes: latency and interval, 95th percentile.
   * Where the latency is not told the work stands in for it, and the age is at least so much.
   */
  readonly ageMs: number;
  /** Share of one processor core, or of the graphics processor's time, that the work takes. */
  readonly workShare: number;
}

/** The speed of pictures in a row, times rising; null of fewer than two. */
export function speedOf(pictures: readonly PacedPicture[]): PictureSpeed | null {
  const first = pictures[0];
  const last = pictures[pictures.length - 1];
  if (first === undefined || last === undefined || last.arrivedSeconds <= first.arrivedSeconds) return null;
  const seconds = last.arrivedSeconds - first.arrivedSeconds;
  // What happened before the first picture came is not part of the time that is looked at.
  const rest = pictures.slice(1);
  const work = rest.map(({ timing }) => timing.workMs);
  const latencies = told(rest.map(({ timing }) => timing.latencyMs));
  const dropped = told(rest.map(({ timing }) => timing.dropped));
  return {
    rateHz: rest.length / seconds,
    passedOverHz: dropped && sum(dropped) / seconds,
    workMs: { median: median(work) ?? 0, p95: quantile(work, 0.95) ?? 0 },
    networkMs: median(told(rest.map(({ timing }) => timing.networkMs)) ?? []),
    latencyMs: latencies && {
      least: Math.min(...latencies),
      median: median(latencies) ?? 0,
      p95: quantile(latencies, 0.95) ?? 0,
      largest: Math.max(...latencies),
    },
    ageMs: quantile(agesMs(pictures), 0.95) ?? 0,
    workShare: sum(work) / 1000 / seconds,
  };
}

function agesMs(pictures: readonly PacedPicture[]): number[] {
  return pictures.slice(1).map(({ arrivedSeconds }, before) => {
    const shown = pictures[before];
    if (shown === undefined) return 0;
    const sinceArrivalMs = (arrivedSeconds - shown.arrivedSeconds) * 1000;
    return (shown.timing.latencyMs ?? shown.timing.workMs) + sinceArrivalMs;
  });
}

/** The values, or null when one of them is not told. */
function told(values: readonly (number | null)[]): number[] | null {
  const known = values.filter((value) => value !== null);
  return known.length === values.length ? known : null;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** The pictures of the last seconds, the oldest let go as new ones come. */
export class SpeedLog {
  readonly #keptSeconds: number;
  #pictures: PacedPicture[] = [];

  constructor(keptSeconds: number) {
    this.#keptSeconds = keptSeconds;
  }

  /** Takes the next picture; times rise. */
  take(picture: PacedPicture): void {
    this.#pictures.push(picture);
    // Let go now and then, so that a picture costs next to nothing.
    const oldest = this.#pictures[0]?.arrivedSeconds ?? 0;
    if (picture.arrivedSeconds - oldest > 2 * this.#keptSeconds)
      this.#pictures = this.since(picture.arrivedSeconds - this.#keptSeconds);
  }

  /** The pictures that came from this moment on, seconds on the page's clock. */
  since(seconds: number): PacedPicture[] {
    return this.#pictures.filter(({ arrivedSeconds }) => arrivedSeconds >= seconds);
  }

  /** When the last picture came, seconds; null before the first. */
  get lastSeconds(): number | null {
    return this.#pictures.at(-1)?.arrivedSeconds ?? null;
  }

  forget(): void {
    this.#pictures = [];
  }
}
