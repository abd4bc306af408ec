import { isMeasured, valueOf, type Measured } from '../kinematics/measured.ts';
import { decimals, type Column } from './csv.ts';

/** A column for a measured value: empty where it was not measured. */
export function valueColumn<Row>(
  name: string,
  places: number,
  pick: (row: Row) => Measured | null,
): Column<Row> {
  return {
    name,
    cell: (row) => {
      const measured = pick(row);
      return decimals(measured && valueOf(measured), places);
    },
  };
}

/** Three columns for a measured value: the value and both ends of its 95 % interval. `unit` ends each name. */
export function intervalColumns<Row>(
  name: string,
  unit: string,
  places: number,
  pick: (row: Row) => Measured | null,
): Column<Row>[] {
  const end = (row: Row, which: 'low' | 'high'): number | null => {
    const measured = pick(row);
    return decimals(measured && isMeasured(measured) ? measured[which] : null, places);
  };
  return [
    valueColumn(`${name}_${unit}`, places, pick),
    { name: `${name}_low_${unit}`, cell: (row) => end(row, 'low') },
    { name: `${name}_high_${unit}`, cell: (row) => end(row, 'high') },
  ];
}
