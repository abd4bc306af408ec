import { readFileSync } from 'node:fs';

/** A CSV of numbers and plain words by column: cells as text, empty where nothing stands. */
export interface Table {
  readonly length: number;
  /** The cell as a number, or null when it is empty or no number. */
  number(row: number, column: string): number | null;
  text(row: number, column: string): string;
}

/** Reads a CSV without quoted cells, as the frames and the truth are. Throws when a column is asked for that it lacks. */
export function readTable(path: string): Table {
  const [head = '', ...lines] = readFileSync(path, 'utf8').trim().split(/\r?\n/);
  const columns = new Map(head.split(',').map((name, i) => [name, i]));
  const cells = lines.map((line) => line.split(','));
  const text = (row: number, column: string): string => {
    const index = columns.get(column);
    if (index === undefined) throw new Error(`${path} has no column "${column}".`);
    return cells[row]?.[index] ?? '';
  };
  return {
    length: cells.length,
    text,
    number: (row, column) => {
      const cell = text(row, column);
      const value = Number(cell);
      return cell === '' || !Number.isFinite(value) ? null : value;
    },
  };
}
