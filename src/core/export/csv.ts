/** What a cell may hold; null leaves it empty, because an empty cell is not a zero. */
type Cell = string | number | null;

/** A column: its name, and how its cell is had from a row. */
export interface Column<Row> {
  readonly name: string;
  readonly cell: (row: Row) => Cell;
}

/**
 * A table as comma-separated text: a line of names, a line for each row. Cells are quoted as in RFC 4180, section 2;
 * lines end with a bare line feed.
 */
export function toCsv<Row>(columns: readonly Column<Row>[], rows: readonly Row[]): string {
  const lines = [columns.map(({ name }) => name), ...rows.map((row) => columns.map(({ cell }) => cell(row)))];
  return lines.map((cells) => `${cells.map(written).join(',')}\n`).join('');
}

/** A number with at most so many decimals and no trailing zeros; null stays null. */
export function decimals(value: number | null, places: number): number | null {
  return value === null ? null : Number(value.toFixed(places)) + 0;
}

function written(cell: Cell): string {
  const text = cell === null ? '' : String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
