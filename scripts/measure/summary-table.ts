import type { ClipRow } from '../../src/core/export/summary-csv.ts';
import type { SetSummary } from '../../src/core/session/summary.ts';

interface Column {
  readonly head: string;
  readonly cell: (row: ClipRow) => string;
}

/** What stands where there is no figure. */
const NOTHING = '-';

const COLUMNS: readonly Column[] = [
  { head: 'clip', cell: ({ clip }) => clip },
  { head: 'length s', cell: ({ durationSeconds }) => rounded(durationSeconds, 1) },
  { head: 'x real time', cell: (row) => rounded(speed(row), 1) },
  { head: 'measured %', cell: of((summary) => percent(summary.measuredShare)) },
  { head: 'repetitions', cell: of(({ repetitions }) => String(repetitions)) },
  { head: 'partial', cell: of(({ partialRepetitions }) => String(partialRepetitions)) },
  { head: 'shoulder-dominant', cell: of((summary) => rounded(summary.shoulderDominantRepetitions, 0)) },
  { head: 'held in range s', cell: of(({ holdInRangeSeconds }) => rounded(holdInRangeSeconds, 1)) },
  { head: 'elbow deg', cell: of(({ elbowMinDeg, elbowMaxDeg }) => range(elbowMinDeg, elbowMaxDeg)) },
  { head: 'travel cm', cell: of(({ torsoTravelCmMedian }) => rounded(torsoTravelCmMedian, 1)) },
  { head: 'lowering s', cell: of(({ loweringSecondsMedian }) => rounded(loweringSecondsMedian, 1)) },
];

/**
 * The table that a run of so many seconds prints: a line for each clip, how fast all of it was, and the sentence of each
 * clip that could not be measured below.
 */
export function summaryTable(rows: readonly ClipRow[], wallSeconds: number): string {
  const table = [COLUMNS.map(({ head }) => head), ...rows.map((row) => COLUMNS.map(({ cell }) => cell(row)))];
  const widths = COLUMNS.map((_, column) => Math.max(...table.map((cells) => cells[column]?.length ?? 0)));
  const lines = table.map((cells) =>
    cells
      .map((cell, column) =>
        column === 0 ? cell.padEnd(widths[0] ?? 0) : cell.padStart(widths[column] ?? 0),
      )
      .join('  '),
  );
  const problems = rows.flatMap(({ clip, problem }) => (problem === null ? [] : [`${clip}: ${problem}`]));
  const seconds = rows.reduce((sum, { durationSeconds }) => sum + (durationSeconds ?? 0), 0);
  const whole = `${seconds.toFixed(1)} s of clips in ${wallSeconds.toFixed(1)} s: ${(seconds / wallSeconds).toFixed(1)} times real time`;
  return [...lines, '', whole, ...(problems.length > 0 ? ['', ...problems] : []), ''].join('\n');
}

/** Seconds of the clip a second of the wall clock; clips that are measured at the same time share the cores. */
function speed({ durationSeconds, wallSeconds }: ClipRow): number | null {
  return durationSeconds === null || wallSeconds <= 0 ? null : durationSeconds / wallSeconds;
}

function of(pick: (summary: SetSummary) => string): Column['cell'] {
  return ({ summary }) => (summary === null ? NOTHING : pick(summary));
}

function rounded(value: number | null, places: number): string {
  return value === null ? NOTHING : value.toFixed(places);
}

function percent(share: number | null): string {
  return share === null ? NOTHING : String(Math.round(share * 100));
}

function range(least: number | null, most: number | null): string {
  return least === null || most === null ? NOTHING : `${least.toFixed(0)} to ${most.toFixed(0)}`;
}
