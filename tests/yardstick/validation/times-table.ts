import { meanAbsolute } from './agreement.ts';
import { percent, table } from './markdown.ts';
import type { SetFigures } from './set-figures.ts';
import { ANGLE_OFFSETS_DEG } from './true-angle.ts';

/** Times of holds and lowerings as measured, given the true angle, and given the true angle read wrong by a few degrees. */
export function timesTable(figures: readonly SetFigures[]): string[] {
  const holds = figures.flatMap(({ hold }) => hold ?? []);
  const holdRow = (words: string, errors: readonly number[]): string[] => [
    words,
    errors.length === 0 ? '' : percent(errors.filter((s) => Math.abs(s) <= 0.3).length / errors.length),
    errors.length === 0 ? '' : meanAbsolute(errors).toFixed(2),
  ];
  const lowering = (of: readonly { trueSeconds: number; seconds: number }[]): string[] => {
    const errors = of.map(({ trueSeconds, seconds }) => seconds - trueSeconds);
    const bias = errors.reduce((sum, s) => sum + s, 0) / errors.length;
    return [
      percent(errors.filter((s) => Math.abs(s) <= 0.15).length / errors.length),
      meanAbsolute(errors).toFixed(2),
      bias.toFixed(2),
    ];
  };
  const measured = holds.map(({ seconds, trueSeconds }) => seconds - trueSeconds);
  const rows = [
    [...holdRow('as measured', measured), ...lowering(figures.flatMap((set) => set.lowering))],
    ...ANGLE_OFFSETS_DEG.map((offset, i) => [
      ...holdRow(
        `true angle ${offset > 0 ? '+' : ''}${String(offset)}°`,
        holds.map(({ byOffsetSeconds, trueSeconds }) => (byOffsetSeconds[i] ?? NaN) - trueSeconds),
      ),
      ...(offset === 0 ? lowering(figures.flatMap((set) => set.loweringByTrueAngle)) : ['', '', '']),
    ]),
  ];
  const head = [
    'the elbow’s angle',
    'hold within 0.3 s',
    'mean absolute error of a hold, s',
    'lowering within 0.15 s',
    'mean absolute error of a lowering, s',
    'bias of a lowering, s',
  ];
  return table(head, rows);
}
