import { median } from '../math/statistics.ts';

/** A new picture of a call that was measured. */
interface PacedTile {
  /** On the page's clock, seconds, rising. */
  readonly arrivedSeconds: number;
  /** The treated upper arm's length in it, pixels; null where it was not seen. */
  readonly upperArmPx: number | null;
  /** How long measuring it took, milliseconds. */
  readonly workMs: number;
}

/** Fewer pictures than this tell no rate. */
const LEAST_PICTURES = 4;

/** What the pictures of the last seconds were like: how large the arm, how many, how far apart. */
export class TilePace {
  readonly #keptSeconds: number;
  #pictures: readonly PacedTile[] = [];

  constructor(keptSeconds: number) {
    this.#keptSeconds = keptSeconds;
  }

  take(picture: PacedTile): void {
    const from = picture.arrivedSeconds - this.#keptSeconds;
    this.#pictures = [...this.#pictures.filter(({ arrivedSeconds }) => arrivedSeconds >= from), picture];
  }

  /** Another part of the picture is measured: what was before says nothing of it. */
  forget(): void {
    this.#pictures = [];
  }

  /** How it was up to now, seconds on the same clock. The time since the last picture counts as a pause. */
  at(nowSeconds: number): {
    readonly upperArmPx: number | null;
    readonly rateHz: number | null;
    readonly longestPauseSeconds: number;
    readonly capacityHz: number | null;
  } {
    const from = nowSeconds - this.#keptSeconds;
    const recent = this.#pictures.filter(({ arrivedSeconds }) => arrivedSeconds >= from);
    const times = recent.map(({ arrivedSeconds }) => arrivedSeconds);
    const first = this.#pictures[0]?.arrivedSeconds;
    if (first === undefined)
      return { upperArmPx: null, rateHz: null, longestPauseSeconds: 0, capacityHz: null };
    const marks = [Math.max(first, from), ...times, nowSeconds];
    const pauses = marks.slice(1).map((time, index) => time - (marks[index] ?? time));
    const seconds = nowSeconds - (times[0] ?? nowSeconds);
    const workMs = median(recent.map((picture) => picture.workMs));
    const arms = recent.flatMap(({ upperArmPx }) => (upperArmPx === null ? [] : [upperArmPx]));
    return {
      upperArmPx: median(arms),
      rateHz: recent.length < LEAST_PICTURES || seconds <= 0 ? null : (recent.length - 1) / seconds,
      longestPauseSeconds: Math.max(...pauses),
      capacityHz: workMs === null || workMs <= 0 ? null : 1000 / workMs,
    };
  }
}
