import { median } from '../../../../src/core/math/statistics.ts';
import type { rowTenths } from '../row-rule.ts';
import { dots, drawnPlot, field, line, text } from './plot-frame.ts';
import { element } from './svg.ts';

/** Errors of times in one band of yaw, seconds, found less true. */
export interface TimeErrors {
  readonly yaw: number;
  readonly errorsSeconds: readonly number[];
}

/** Errors of single times side by side in each band of yaw, with their median, beside the goal. */
export function timePlot(
  words: string,
  bands: readonly TimeErrors[],
  goalSeconds: number,
  mostSeconds: number,
  id: string,
): string {
  const told = bands.filter(({ errorsSeconds }) => errorsSeconds.length > 0);
  return drawnPlot({
    id,
    title: words,
    description: `Found less true time. Goal ${String(goalSeconds)} seconds either way. ${told
      .map(({ yaw, errorsSeconds }) => {
        const beyond = errorsSeconds.filter((error) => Math.abs(error) > mostSeconds).length;
        const within = errorsSeconds.filter((error) => Math.abs(error) <= goalSeconds).length;
        return (
          `At ${String(yaw)}° median ${(median(errorsSeconds) ?? NaN).toFixed(2)} seconds, ${String(within)} of ` +
          `${String(errorsSeconds.length)} within the goal${beyond === 0 ? '' : `, ${String(beyond)} outside the field`}.`
        );
      })
      .join(' ')}`,
    x: {
      low: -8,
      high: 68,
      words: 'camera yaw, deg',
      names: bands.map(({ yaw }) => [yaw, `${String(yaw)}°`]),
    },
    y: { low: -mostSeconds, high: mostSeconds, words: 'found − true, s' },
    marks: (places) => [
      field(places, -goalSeconds, goalSeconds),
      line(places.left, places.y(0), places.right, places.y(0), 'zero'),
      ...told.flatMap(({ yaw, errorsSeconds }) => {
        const middle = median(errorsSeconds) ?? 0;
        const beyond = errorsSeconds.filter((error) => Math.abs(error) > mostSeconds).length;
        return [
          ...(beyond === 0
            ? []
            : [text(places.x(yaw), places.y(-mostSeconds) - 4, `${String(beyond)} outside`, 'tick middle')]),
          dots(
            errorsSeconds.map((error, i) => [
              places.x(yaw + sidewards(i, errorsSeconds.length)),
              places.y(error),
            ]),
            'point strong',
          ),
          line(places.x(yaw - 5), places.y(middle), places.x(yaw + 5), places.y(middle), 'bias'),
        ];
      }),
    ],
  });
}

/** So that like points lie beside each other: evenly over eight degrees of the axis, in their order. */
const sidewards = (index: number, count: number): number => (count < 2 ? 0 : (index / (count - 1) - 0.5) * 8);

/** What was said of repetitions, by tenths of the shoulder's true share of the work. */
export function rowPlot(
  tenths: ReturnType<typeof rowTenths>,
  greyZone: readonly [number, number],
  id: string,
): string {
  const most = Math.max(1, ...tenths.map(({ repetitions }) => repetitions));
  const top = 1.1 * most;
  return drawnPlot({
    id,
    title: 'What was said',
    description: tenths
      .filter(({ repetitions }) => repetitions > 0)
      .map(
        ({ from, repetitions, dominant, unsaid }) =>
          `From ${(from * 100).toFixed(0)} percent: ${String(repetitions)} repetitions, ${String(dominant)} called shoulder-dominant, ${String(unsaid)} not judged.`,
      )
      .join(' '),
    x: { low: 0, high: 100, words: 'shoulder’s true share of the work, %' },
    y: { low: 0, high: top, words: 'repetitions' },
    marks: ({ x, y }) => {
      const bar = (from: number, low: number, high: number, kind: string): string =>
        high <= low
          ? ''
          : element('rect', {
              class: kind,
              x: x(from * 100 + 1),
              y: y(high),
              width: x(8) - x(0),
              height: y(low) - y(high),
            });
      return [
        element('rect', {
          class: 'goal',
          x: x(greyZone[0] * 100),
          y: y(top),
          width: x(greyZone[1] * 100) - x(greyZone[0] * 100),
          height: y(0) - y(top),
        }),
        ...tenths.flatMap(({ from, repetitions, dominant, unsaid }) => [
          bar(from, 0, dominant, 'bar filled'),
          bar(from, dominant, repetitions - unsaid, 'bar open'),
          bar(from, repetitions - unsaid, repetitions, 'bar hatched'),
        ]),
      ];
    },
  });
}
