import { CURVE_POINTS, type MeanCurve } from '../review/compare-curves.ts';
import { decimals, toCsv, type Column } from './csv.ts';

/** One measure of both sides over 0 to 100 %. name: of its columns, with the unit at its end. */
export interface ComparedCurves {
  readonly name: string;
  readonly first: MeanCurve;
  readonly second: MeanCurve;
}

/** Mean, spread and number of both sides' curves, one line for each per cent. An empty cell was not measured. */
export function compareCsv(curves: readonly ComparedCurves[]): string {
  const columns: Column<number>[] = [
    { name: 'percent', cell: (percent) => percent },
    ...curves.flatMap(({ name, first, second }) =>
      (
        [
          ['first', first],
          ['second', second],
        ] as const
      ).flatMap(([side, curve]): Column<number>[] => [
        { name: `${side}_${name}_mean`, cell: (percent) => decimals(curve.mean[percent] ?? null, 3) },
        { name: `${side}_${name}_sd`, cell: (percent) => decimals(curve.sd[percent] ?? null, 3) },
        { name: `${side}_${name}_count`, cell: (percent) => curve.count[percent] ?? 0 },
      ]),
    ),
  ];
  return toCsv(
    columns,
    Array.from({ length: CURVE_POINTS }, (_, percent) => percent),
  );
}
