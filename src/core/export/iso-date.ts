import { dateOf, type DayNumber } from '../plan/calendar.ts';

/** A day by ISO 8601: 2026-03-02. */
export function isoDate(day: DayNumber): string {
  const { year, month, day: ofMonth } = dateOf(day);
  const two = (part: number): string => String(part).padStart(2, '0');
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(ofMonth)}`;
}
