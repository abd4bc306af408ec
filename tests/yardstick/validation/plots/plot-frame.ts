import { ticks } from '../../../../src/ui/charts/trace-scale.ts';
import { element, escaped, short } from './svg.ts';

/** One axis: its extent in its unit, and its words. */
interface Axis {
  readonly low: number;
  readonly high: number;
  readonly words: string;
  /** Named places instead of numbers, each at its value. */
  readonly names?: readonly (readonly [number, string])[];
  readonly isAngle?: boolean;
}

/** Places in the picture of values on the axes. */
export interface Places {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  readonly left: number;
  readonly right: number;
}

/** A plot before it is drawn. */
interface Plot {
  /** Unique on the page; letters, digits and hyphens. */
  readonly id: string;
  readonly title: string;
  /** What is to be seen, for those who do not see it. */
  readonly description: string;
  readonly x: Axis;
  readonly y: Axis;
  /** Room to the right of the field for the names of lines. */
  readonly nameRoom?: number;
  /** Markup of what is drawn into the field. */
  readonly marks: (places: Places) => readonly string[];
}

const SIZE = { width: 340, height: 250 } as const;
const MARGIN = { left: 44, right: 10, top: 26, bottom: 40 } as const;
const ABOUT_TICKS = { x: 6, y: 6 } as const;

/** The plot as SVG: title, axes with their units, and its marks. */
export function drawnPlot({ id, title, description, x, y, nameRoom = 0, marks }: Plot): string {
  const [left, right] = [MARGIN.left, SIZE.width - MARGIN.right - nameRoom];
  const [top, bottom] = [MARGIN.top, SIZE.height - MARGIN.bottom];
  const places: Places = {
    left,
    right,
    x: (value) => left + ((value - x.low) / (x.high - x.low)) * (right - left),
    y: (value) => bottom - ((value - y.low) / (y.high - y.low)) * (bottom - top),
  };
  const namesOf = (axis: Axis, about: number) =>
    axis.names ??
    ticks(axis, about, axis.isAngle ?? false).map((value) => [value, String(hundredths(value))] as const);
  const grid = namesOf(y, ABOUT_TICKS.y).flatMap(([value, name]) => [
    line(left, places.y(value), right, places.y(value), 'grid'),
    text(left - 5, places.y(value) + 3.5, name, 'tick end'),
  ]);
  const along = namesOf(x, ABOUT_TICKS.x).flatMap(([value, name]) => [
    line(places.x(value), bottom, places.x(value), bottom + 4, 'axis'),
    text(places.x(value), bottom + 15, name, 'tick middle'),
  ]);
  return element(
    'svg',
    {
      viewBox: `0 0 ${String(SIZE.width)} ${String(SIZE.height)}`,
      role: 'img',
      'aria-labelledby': `${id}-title ${id}-desc`,
    },
    element('title', { id: `${id}-title` }, escaped(title)),
    element('desc', { id: `${id}-desc` }, escaped(description)),
    text(left, 14, title, 'name'),
    ...grid,
    ...along,
    element(
      'clipPath',
      { id: `${id}-field` },
      element('rect', { x: left, y: top, width: right - left, height: bottom - top }),
    ),
    element('g', { 'clip-path': `url(#${id}-field)` }, ...marks(places).filter((mark) => !isName(mark))),
    ...marks(places).filter(isName),
    line(left, top, left, bottom, 'axis'),
    line(left, bottom, right, bottom, 'axis'),
    text((left + right) / 2, SIZE.height - 6, x.words, 'words middle'),
    element(
      'text',
      { class: 'words middle', transform: `translate(11 ${short((top + bottom) / 2)}) rotate(-90)` },
      escaped(y.words),
    ),
  );
}

const hundredths = (value: number): number => Math.round(value * 100) / 100;

/** Names may stand outside the field, all other marks not. */
const isName = (mark: string): boolean => mark.startsWith('<text');

export function line(x1: number, y1: number, x2: number, y2: number, kind: string): string {
  return element('line', { class: kind, x1, y1, x2, y2 });
}

export function text(x: number, y: number, words: string, kind: string): string {
  return element('text', { class: kind, x, y }, escaped(words));
}

/** A field over the whole breadth between two values: where a goal lies. */
export function field({ y, left, right }: Places, low: number, high: number): string {
  return element('rect', {
    class: 'goal',
    x: left,
    y: y(high),
    width: right - left,
    height: y(low) - y(high),
  });
}

/** Many points as one path of round dots. */
export function dots(points: readonly (readonly [number, number])[], kind: string): string {
  const d = points.map(([x, y]) => `M${short(x)} ${short(y)}h0`).join('');
  return d === '' ? '' : element('path', { class: kind, d });
}

/** A line through points, in order. */
export function polyline(points: readonly (readonly [number, number])[], kind: string): string {
  if (points.length === 0) return '';
  return element('polyline', {
    class: kind,
    points: points.map(([x, y]) => `${short(x)},${short(y)}`).join(' '),
  });
}
