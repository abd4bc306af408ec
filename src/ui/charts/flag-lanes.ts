/** A flag with its place: the lane of its word, or the row below the lanes where only the marker fits. */
export interface PlacedFlag {
  readonly word: string;
  readonly atSeconds: number;
  readonly xPx: number;
  readonly lane: number;
  readonly worded: boolean;
  /** The word stands to the left of the marker, where the right edge is too near. */
  readonly leftwards: boolean;
}

const LETTER_PX = 7.2;
const MARKER_PX = 10;
const SPACE_PX = 8;

/**
 * Puts the words of flags into lanes so that none covers another. Flags come in order of time; one that finds no
 * free lane keeps its marker and loses its word (the readout and the lists still say it).
 */
export function placeFlags(
  flags: readonly { readonly atSeconds: number; readonly word: string; readonly xPx: number }[],
  lanes: number,
  rightEdgePx: number,
): PlacedFlag[] {
  const takenTo = Array.from({ length: lanes }, () => -Infinity);
  const lastPx = new Map<string, number>();
  return flags.map(({ atSeconds, word, xPx }) => {
    const beforePx = lastPx.get(word);
    lastPx.set(word, xPx);
    const wordPx = word.length * LETTER_PX + SPACE_PX;
    const leftwards = xPx + MARKER_PX + wordPx > rightEdgePx;
    const from = leftwards ? xPx - MARKER_PX - wordPx : xPx - MARKER_PX;
    const free = takenTo.findIndex((takenPx) => takenPx <= from);
    // More evidence of the same thing close by: its word stands there already.
    const isSaid = beforePx !== undefined && xPx - beforePx < wordPx;
    const fits = from >= 0 && free >= 0;
    if (isSaid || !fits) return { word, atSeconds, xPx, lane: lanes, worded: false, leftwards };
    takenTo[free] = leftwards ? xPx + MARKER_PX : xPx + MARKER_PX + wordPx;
    return { word, atSeconds, xPx, lane: free, worded: true, leftwards };
  });
}
