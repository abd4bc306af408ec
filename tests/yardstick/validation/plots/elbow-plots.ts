import { quantile } from '../../../../src/core/math/statistics.ts';
import type { Agreement } from '../agreement.ts';
import type { Reading, SetFigures } from '../set-figures.ts';
import { dots, drawnPlot, field, line, polyline, text, type Places } from './plot-frame.ts';

/** Sets of one movement before cameras of about the same turn. */
export interface Cell {
  readonly words: string;
  readonly yaw: number;
  readonly sets: readonly SetFigures[];
}

const ANGLE = { low: 0, high: 150 } as const;
const ERROR = { low: -30, high: 30 } as const;
/** Of each set so many readings are drawn, evenly over its time. */
const DRAWN = 40;
/** To a tenth, without the sign of a nought. */
export const one = (value: number): string => value.toFixed(1).replace(/^-0\.0$/, '0.0');

/** Readings less the truth over the truth, with bias and limits of agreement. */
export function agreementPlot(cell: Cell, of: Agreement, id: string): string {
  const readings = cell.sets.flatMap((set) => thinned(set.readings.elbow));
  const beyond = readings.filter(({ value, truth }) => Math.abs(value - truth) > ERROR.high).length;
  const [low, high] = of.limits;
  const title = `${cell.words}, ${String(cell.yaw)}°`;
  return drawnPlot({
    id,
    title,
    description:
      `Measured less true elbow flexion over true flexion, ${String(of.sets)} sets. Bias ${one(of.bias.value)} degrees, ` +
      `limits of agreement ${one(low)} to ${one(high)} degrees.` +
      (beyond === 0 ? '' : ` ${String(beyond)} of ${String(readings.length)} points lie outside the field.`),
    x: { ...ANGLE, words: 'true elbow flexion, deg', isAngle: true },
    y: { ...ERROR, words: 'measured − true, deg', isAngle: true },
    marks: (places) => [
      dots(
        readings.map(({ value, truth }) => [places.x(truth), places.y(value - truth)]),
        'point',
      ),
      level(places, 0, 'zero'),
      level(places, of.bias.value, 'bias'),
      level(places, low, 'limit'),
      level(places, high, 'limit'),
      ...(beyond === 0
        ? []
        : [text(places.right, places.y(ERROR.high) + 12, `${String(beyond)} outside`, 'tick end')]),
    ],
  });
}

function level({ left, right, y }: Places, value: number, kind: string): string {
  return line(left, y(value), right, y(value), kind);
}

function thinned(readings: readonly Reading[]): Reading[] {
  if (readings.length <= DRAWN) return [...readings];
  return Array.from({ length: DRAWN }, (_, i) => Math.floor(((i + 0.5) * readings.length) / DRAWN)).flatMap(
    (at) => readings[at] ?? [],
  );
}

/** Width of a group of flexion, degrees, and how many readings it must hold to be told. */
const GROUP = { deg: 15, least: 20 } as const;

/** Errors in a group of true flexion: their middle and the 90 % about it. */
interface FlexionGroup {
  readonly fromDeg: number;
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

/** The errors of a cell by groups of true flexion. */
export function flexionGroups({ sets }: Pick<Cell, 'sets'>): FlexionGroup[] {
  const readings = sets.flatMap((set) => set.readings.elbow);
  return Array.from({ length: ANGLE.high / GROUP.deg }, (_, i) => i * GROUP.deg).flatMap((fromDeg) => {
    const errors = readings
      .filter(({ truth }) => truth >= fromDeg && truth < fromDeg + GROUP.deg)
      .map(({ value, truth }) => value - truth);
    if (errors.length < GROUP.least) return [];
    const at = (q: number): number => quantile(errors, q) ?? NaN;
    return [{ fromDeg, low: at(0.05), middle: at(0.5), high: at(0.95) }];
  });
}

/** Median error over flexion, one line for each turn of the camera; the line's name stands at its end. */
export function flexionPlot(words: string, cells: readonly Cell[], id: string): string {
  const lines = cells
    .map((cell) => ({ cell, groups: flexionGroups(cell) }))
    .filter(({ groups }) => groups.length > 1);
  return drawnPlot({
    id,
    title: words,
    description: lines
      .map(({ cell, groups }) => {
        const middles = groups.map(({ middle }) => middle);
        return `At ${String(cell.yaw)}° the median error goes from ${one(Math.min(...middles))} to ${one(Math.max(...middles))} degrees.`;
      })
      .join(' '),
    x: { ...ANGLE, words: 'true elbow flexion, deg', isAngle: true },
    y: { low: -15, high: 15, words: 'median of measured − true, deg', isAngle: true },
    nameRoom: 30,
    marks: (places) => [
      level(places, 0, 'zero'),
      ...lines.map(({ cell, groups }) =>
        polyline(
          groups.map(({ fromDeg, middle }) => [places.x(fromDeg + GROUP.deg / 2), places.y(middle)]),
          `band band-${String(cell.yaw)}`,
        ),
      ),
      ...namesBeside(
        lines.flatMap(({ cell, groups }) => {
          const last = groups.at(-1);
          return last === undefined
            ? []
            : [
                {
                  name: `${String(cell.yaw)}°`,
                  x: places.x(last.fromDeg + GROUP.deg / 2) + 4,
                  y: places.y(last.middle) + 3.5,
                },
              ];
        }),
      ),
    ],
  });
}

/** Names keep so far apart, one below the other. */
const NAME_HEIGHT = 11;

function namesBeside(names: readonly { name: string; x: number; y: number }[]): string[] {
  let next = -Infinity;
  return names
    .toSorted((a, b) => a.y - b.y)
    .map(({ name, x, y }) => {
      const free = Math.max(y, next);
      next = free + NAME_HEIGHT;
      return text(x, free, name, 'tick');
    });
}

/** Share of readings whose interval holds the truth, with its own interval, beside the goal. */
export function coveragePlot(
  words: string,
  shares: readonly { readonly yaw: number; readonly of: Agreement }[],
  goal: readonly [number, number],
  id: string,
): string {
  const percent = (share: number): number => share * 100;
  return drawnPlot({
    id,
    title: words,
    description: `Goal ${percent(goal[0]).toFixed(0)} to ${percent(goal[1]).toFixed(0)} percent. ${shares
      .map(({ yaw, of }) => `At ${String(yaw)}° ${percent(of.coverage.value).toFixed(0)} percent.`)
      .join(' ')}`,
    x: {
      low: -8,
      high: 68,
      words: 'camera yaw, deg',
      names: shares.map(({ yaw }) => [yaw, `${String(yaw)}°`]),
    },
    y: { low: 50, high: 102, words: 'inside the 95 % interval, %' },
    marks: (places) => [
      field(places, percent(goal[0]), percent(goal[1])),
      ...shares.flatMap(({ yaw, of: { coverage } }) => [
        line(
          places.x(yaw),
          places.y(percent(coverage.low)),
          places.x(yaw),
          places.y(percent(coverage.high)),
          'whisker',
        ),
        dots([[places.x(yaw), places.y(percent(coverage.value))]], 'mark'),
      ]),
    ],
  });
}
