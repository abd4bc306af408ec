/**
 * A strip across the top of a picture that says which picture it is: cells of white and black, twice, the second row the other way round. It
 * is drawn on test clips only, large enough to be read after a video codec has been over it.
 */
const BITS = 10;
/** White and black for reference, then the bits, the highest first. */
const CELLS = BITS + 2;
/** Height of one of the two rows, share of the picture's. */
const ROW_SHARE = 0.035;

type Context = Pick<CanvasRenderingContext2D, 'fillStyle' | 'fillRect'>;

/** Draws the strip of a picture's number (0 to 1023) on a picture of this size. */
export function drawFrameStrip(context: Context, number: number, width: number, height: number): void {
  for (const [index, isWhite] of cellsOf(number).entries())
    for (const row of [0, 1]) {
      context.fillStyle = isWhite === (row === 0) ? '#fff' : '#000';
      const x = (index * width) / CELLS;
      context.fillRect(x, row * ROW_SHARE * height, width / CELLS + 1, ROW_SHARE * height);
    }
}

/** Where each cell's middle lies in both rows, shares of width and height. */
export const FRAME_STRIP_PLACES = Array.from({ length: CELLS }, (_, index) => ({
  x: (index + 0.5) / CELLS,
  upper: 0.5 * ROW_SHARE,
  lower: 1.5 * ROW_SHARE,
}));

/** The number by the brightness in the middle of each cell; null when the two rows do not say the same. */
export function readFrameStrip(
  cells: readonly { readonly upper: number; readonly lower: number }[],
): number | null {
  const bits = cells.map(({ upper, lower }) => (Math.abs(upper - lower) < 60 ? null : upper > lower));
  if (bits[0] !== true || bits[1] !== false || bits.includes(null)) return null;
  return bits.slice(2).reduce((number, bit) => number * 2 + Number(bit), 0);
}

function cellsOf(number: number): boolean[] {
  return [true, false, ...Array.from({ length: BITS }, (_, bit) => ((number >> (BITS - 1 - bit)) & 1) === 1)];
}
