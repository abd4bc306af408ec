import type { Hold, Repetition } from '../exercises/judgement.ts';
import { isMeasured } from '../kinematics/measured.ts';
import type { RecordOutline } from '../session/record-opener.ts';
import { decimals, toCsv, type Column } from './csv.ts';
import {
  HOLD_FIGURES,
  HOLD_MEASURES,
  placed,
  REPETITION_FIGURES,
  REPETITION_MEASURES,
  type Figure,
  type Measure,
  type Placed,
} from './judgement-csv.ts';

/** One measurement of one hold or repetition. */
interface Row {
  readonly record: RecordOutline;
  readonly setNumber: number;
  readonly part: 'hold' | 'repetition';
  /** Counted from 1 within the set. */
  readonly number: number;
  readonly quantity: string;
  readonly unit: string;
  readonly value: number | null;
  /** The ends of the 95 % interval; null where none is known. */
  readonly lower: number | null;
  readonly upper: number | null;
  readonly notMeasured: string | null;
}

/** Units as they end the names of the wide table's columns, and as they stand in a cell. 1: a share or a count. */
const UNITS: Readonly<Record<string, string>> = {
  '': '1',
  deg: 'deg',
  s: 's',
  cm: 'cm',
  deg_per_s: 'deg/s',
  deg_per_10s: 'deg/10 s',
  upper_arms: 'upper-arm lengths',
};

const COLUMNS: readonly Column<Row>[] = [
  { name: 'session', cell: ({ record }) => record.id },
  { name: 'session_started_at', cell: ({ record }) => record.createdAt },
  { name: 'exercise', cell: ({ record }) => record.settings.exercise },
  { name: 'side', cell: ({ record }) => record.settings.side },
  { name: 'set', cell: ({ setNumber }) => setNumber },
  { name: 'part', cell: ({ part }) => part },
  { name: 'repetition', cell: ({ number }) => number },
  { name: 'quantity', cell: ({ quantity }) => quantity },
  { name: 'value', cell: ({ value }) => value },
  { name: 'unit', cell: ({ unit }) => unit },
  { name: 'lower', cell: ({ lower }) => lower },
  { name: 'upper', cell: ({ upper }) => upper },
  { name: 'not_measured', cell: ({ notMeasured }) => notMeasured },
];

/**
 * Everything that was measured of every hold and repetition, one line for each measurement: what a statistics program
 * groups by. The value is empty where it was not measured, and the last column says why. `repetition` counts holds in
 * sets of holds, as `part` says.
 */
export function longCsv(record: RecordOutline): string {
  const holds = placed(record, ({ judgement }) => judgement.holds).flatMap((item) =>
    rowsOf<Hold>(record, 'hold', item, HOLD_FIGURES, HOLD_MEASURES),
  );
  const repetitions = placed(record, ({ judgement }) => judgement.repetitions).flatMap((item) =>
    rowsOf<Repetition>(record, 'repetition', item, REPETITION_FIGURES, REPETITION_MEASURES),
  );
  return toCsv(COLUMNS, [...holds, ...repetitions]);
}

function rowsOf<Item>(
  record: RecordOutline,
  part: Row['part'],
  { setNumber, number, item }: Placed<Item>,
  figures: readonly Figure<Item>[],
  measures: readonly Measure<Item>[],
): Row[] {
  const at = { record, setNumber, part, number };
  return [
    ...figures.map(({ name, unit, places, pick }): Row => {
      const value = decimals(pick(item), places);
      const notMeasured = value === null ? 'not-judged' : null;
      return { ...at, ...named(name, unit), value, lower: null, upper: null, notMeasured };
    }),
    // A measure that the exercise does not have has no line.
    ...measures.flatMap(({ name, unit, places, pick }): Row[] => {
      const measured = pick(item);
      if (measured === null) return [];
      const row = { ...at, ...named(name, unit) };
      return isMeasured(measured)
        ? [
            {
              ...row,
              value: decimals(measured.value, places),
              lower: decimals(measured.low, places),
              upper: decimals(measured.high, places),
              notMeasured: null,
            },
          ]
        : [{ ...row, value: null, lower: null, upper: null, notMeasured: measured.notMeasured }];
    }),
  ];
}

/** A share names of what it is one, as its column does in the wide table. */
function named(name: string, unit: string): Pick<Row, 'quantity' | 'unit'> {
  return unit.startsWith('of_')
    ? { quantity: `${name}_${unit}`, unit: '1' }
    : { quantity: name, unit: UNITS[unit] ?? unit };
}
