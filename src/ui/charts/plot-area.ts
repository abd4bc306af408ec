import type { Extent } from './trace-scale.ts';
import type { DrawnPoint } from './trace-gaps.ts';

/** Space beside the panels: figures of the scale on the left, half a time label on the right. CSS pixels. */
export const MARGIN_LEFT_PX = 52;
export const MARGIN_RIGHT_PX = 16;

/** Where one panel lies in its picture, CSS pixels. */
export interface PlotArea {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** The place across of a moment, pixels. */
export function acrossPx(area: PlotArea, window: Extent, seconds: number): number {
  return area.left + (area.width * (seconds - window.low)) / (window.high - window.low);
}

/** The place down of a value, pixels; the scale's high end is at the top. */
export function downPx(area: PlotArea, scale: Extent, value: number): number {
  return area.top + area.height * (1 - (value - scale.low) / (scale.high - scale.low));
}

/** The SVG paths of the curve and of its interval's ribbon, over a window of time. */
export function tracePaths(
  runs: readonly (readonly DrawnPoint[])[],
  area: PlotArea,
  window: Extent,
  scale: Extent,
): { readonly line: string; readonly ribbon: string } {
  const at = (seconds: number, value: number): string =>
    `${acrossPx(area, window, seconds).toFixed(1)} ${downPx(area, scale, value).toFixed(1)}`;
  let line = '';
  let ribbon = '';
  for (const points of runs) {
    if (points.length === 0) continue;
    // A lone frame between two gaps would be a path of no length: a short dash keeps it visible.
    const end = points.length === 1 ? ` l 1 0` : '';
    line += `M ${points.map((point) => at(point.timeSeconds, point.value)).join(' L ')}${end} `;
    const top = points.map((point) => at(point.timeSeconds, point.high));
    const bottom = points.map((point) => at(point.timeSeconds, point.low)).reverse();
    ribbon += `M ${[...top, ...bottom].join(' L ')} Z `;
  }
  return { line, ribbon };
}
