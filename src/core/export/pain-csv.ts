import type { PainDay } from '../plan/pain-days.ts';
import { toCsv, type Column } from './csv.ts';
import { isoDate } from './iso-date.ts';

const COLUMNS: readonly Column<PainDay>[] = [
  { name: 'date', cell: ({ day }) => isoDate(day) },
  { name: 'plan_version', cell: ({ planVersion }) => planVersion },
  { name: 'pain_before_0_to_10', cell: ({ before }) => before },
  { name: 'pain_most_in_session_0_to_10', cell: ({ worst }) => worst },
  { name: 'ceiling_in_session_0_to_10', cell: ({ ceiling }) => ceiling },
  { name: 'pain_next_morning_0_to_10', cell: ({ morning }) => morning },
  { name: 'ceiling_next_morning_0_to_10', cell: ({ morningCeiling }) => morningCeiling },
];

/** Pain of each training day, one line a day. An empty cell: it was not said, or no ceiling is known. */
export function painCsv(days: readonly PainDay[]): string {
  return toCsv(COLUMNS, days);
}
