/** A place in a drawing, CSS pixels, y down. */
export interface DrawnPlace {
  readonly x: number;
  readonly y: number;
}

/** What part of the world a drawing shows, metres, y up. */
export interface WorldBox {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

/** A drawing to scale: one length of the world is as long in either direction. */
export interface DrawingScale {
  readonly pxPerM: number;
  readonly widthPx: number;
  readonly heightPx: number;
  at(across: number, up: number): DrawnPlace;
}

/** The smallest box round places, metres. */
export function boxRound(places: readonly (readonly [number, number])[], airM: number): WorldBox {
  const [xs, ys] = [places.map(([x]) => x), places.map(([, y]) => y)];
  return {
    left: Math.min(...xs) - airM,
    right: Math.max(...xs) + airM,
    bottom: Math.min(...ys) - airM,
    top: Math.max(...ys) + airM,
  };
}

/** Fits a box into a width and at most a height, centred across; widths and heights above 0. */
export function scaleFor(box: WorldBox, widthPx: number, mostHeightPx: number): DrawingScale {
  const [wide, high] = [box.right - box.left, box.top - box.bottom];
  const pxPerM = Math.min(widthPx / wide, mostHeightPx / high);
  const heightPx = high * pxPerM;
  const indent = (widthPx - wide * pxPerM) / 2;
  return {
    pxPerM,
    widthPx,
    heightPx,
    at: (across, up) => ({
      x: indent + (across - box.left) * pxPerM,
      y: heightPx - (up - box.bottom) * pxPerM,
    }),
  };
}

/** An arrow from a place, as an SVG path: shaft and open head; nothing for a length of nearly none. */
export function arrowPath(from: DrawnPlace, dx: number, dy: number): string {
  const length = Math.hypot(dx, dy);
  if (length < 2) return '';
  const [ux, uy] = [dx / length, dy / length];
  const head = Math.min(9, length / 2);
  const tip = { x: from.x + dx, y: from.y + dy };
  const barb = (side: 1 | -1): string =>
    `${(tip.x - head * ux + side * head * 0.5 * uy).toFixed(1)} ${(tip.y - head * uy - side * head * 0.5 * ux).toFixed(1)}`;
  return `M ${from.x.toFixed(1)} ${from.y.toFixed(1)} L ${tip.x.toFixed(1)} ${tip.y.toFixed(1)} M ${barb(1)} L ${tip.x.toFixed(1)} ${tip.y.toFixed(1)} L ${barb(-1)}`;
}

/** A line through places, as an SVG path. */
export function linePath(places: readonly DrawnPlace[]): string {
  return places.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'} ${x.toFixed(1)} ${y.toFixed(1)}`).join(' ');
}
