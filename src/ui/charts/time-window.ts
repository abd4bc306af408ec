import type { Extent } from './trace-scale.ts';

/** Closer than this nothing more is to be seen: a few frames fill the chart. */
const LEAST_SECONDS = 0.5;

/**
 * Zooms a window of time about a moment that keeps its place. factor below 1 shows less time, above 1 more; the
 * window stays inside the whole and is never shorter than half a second (or the whole, where that is shorter).
 */
export function zoomed(window: Extent, whole: Extent, aboutSeconds: number, factor: number): Extent {
  const wholeSpan = whole.high - whole.low;
  const span = window.high - window.low;
  const newSpan = Math.min(wholeSpan, Math.max(Math.min(LEAST_SECONDS, wholeSpan), span * factor));
  const share = span > 0 ? (aboutSeconds - window.low) / span : 0.5;
  return inside({ low: aboutSeconds - share * newSpan, high: aboutSeconds + (1 - share) * newSpan }, whole);
}

/** Moves a window of time by so many seconds, as far as the whole reaches. */
export function panned(window: Extent, whole: Extent, bySeconds: number): Extent {
  return inside({ low: window.low + bySeconds, high: window.high + bySeconds }, whole);
}

/** The window moved just so far that a moment is in it; the same object when it is already. */
export function showing(window: Extent, whole: Extent, atSeconds: number): Extent {
  if (atSeconds >= window.low && atSeconds <= window.high) return window;
  const span = window.high - window.low;
  return inside({ low: atSeconds - span / 2, high: atSeconds + span / 2 }, whole);
}

function inside(window: Extent, whole: Extent): Extent {
  const span = Math.min(window.high - window.low, whole.high - whole.low);
  const low = Math.min(Math.max(window.low, whole.low), whole.high - span);
  return { low, high: low + span };
}
