import { LANDMARK_NAMES } from '../pose/landmark.ts';
import { fromRuns } from './column-coding.ts';
import type { FrameSeries, LandmarkColumns } from './quantised-frames.ts';

/** The columns of a landmark in the order in which they are packed. */
const COLUMNS = [
  'xTenthPx',
  'yTenthPx',
  'visibilityPercent',
  'worldXMm',
  'worldYMm',
  'worldZMm',
] as const satisfies readonly (keyof LandmarkColumns)[];

/** A piece with its columns as bytes; the runs are short and stay as they are. */
type PackedPiece = Omit<FrameSeries, 'landmarks' | 'timeTenthMs'> & { readonly bytes: Uint8Array };

/**
 * Pieces of a recording in order, held in a quarter of the memory of their numbers: a long session keeps all of its
 * frames until it ends. Can be gone through again and again; each piece is unpacked when its turn comes.
 */
export class PackedPieces implements Iterable<FrameSeries> {
  readonly #packed: PackedPiece[] = [];

  /** Number of pieces. */
  get length(): number {
    return this.#packed.length;
  }

  /** Adds a piece behind the others. */
  push(piece: FrameSeries): void {
    const { landmarks, timeTenthMs, ...runs } = piece;
    const columns = LANDMARK_NAMES.flatMap((name) => COLUMNS.map((of) => landmarks[name][of]));
    this.#packed.push({ ...runs, bytes: toBytes([timeTenthMs, ...columns]) });
  }

  *[Symbol.iterator](): Generator<FrameSeries> {
    for (const { bytes, ...runs } of this.#packed) {
      const read = reader(bytes);
      const timeTenthMs = read(runs.frameCount);
      const found = fromRuns(runs.posed).filter(Boolean).length;
      const landmarks = Object.fromEntries(
        LANDMARK_NAMES.map((name) => [name, Object.fromEntries(COLUMNS.map((of) => [of, read(found)]))]),
      );
      // Every name and every column is a key, which Object.fromEntries cannot say in its type.
      yield { ...runs, timeTenthMs, landmarks: landmarks as FrameSeries['landmarks'] };
    }
  }
}

/** Bits of a number in one byte; the eighth says that more follow. */
const BITS = 7;
const MORE = 1 << BITS;

/** Whole numbers as bytes, small ones of either sign in one: zigzag, then seven bits at a time (base-128 varint). */
function toBytes(columns: readonly (readonly number[])[]): Uint8Array {
  const bytes: number[] = [];
  for (const column of columns)
    for (const value of column) {
      let rest = value < 0 ? -2 * value - 1 : 2 * value;
      for (; rest >= MORE; rest = Math.floor(rest / MORE)) bytes.push((rest % MORE) + MORE);
      bytes.push(rest);
    }
  return Uint8Array.from(bytes);
}

/** Reads so many numbers on with each call. */
function reader(bytes: Uint8Array): (count: number) => number[] {
  let at = 0;
  const next = (): number => {
    let value = 0;
    for (let scale = 1; ; scale *= MORE) {
      const byte = bytes[at++];
      if (byte === undefined) throw new Error('PackedPieces: a piece ends before its last number.');
      value += (byte % MORE) * scale;
      if (byte < MORE) return value % 2 === 0 ? value / 2 : -(value + 1) / 2;
    }
  };
  return (count) => Array.from({ length: count }, next);
}
