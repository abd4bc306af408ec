import { dateOf, type DayNumber } from '../plan/calendar.ts';

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];
/** 1 January 1970 was a Thursday. */
const LONG_WEEKDAYS = ['Thursday', 'Friday', 'Saturday', 'Sunday', 'Monday', 'Tuesday', 'Wednesday'];

/** The day of the week in full: "Monday". */
export function weekdayWords(day: DayNumber): string {
  return LONG_WEEKDAYS[((day % 7) + 7) % 7] ?? '';
}

/** A day as it is read: "Mon 2 March". */
export function dateWords(day: DayNumber): string {
  const { month, day: ofMonth } = dateOf(day);
  return `${weekdayWords(day).slice(0, 3)} ${ofMonth} ${MONTHS[month - 1] ?? ''}`;
}

/**
 * A stored moment as it is read: "2 March 2026, 18:05", in the wall clock of the place where it was recorded (the
 * offset is part of the record), so that a session at 18:05 stays at 18:05 wherever it is opened.
 */
export function whenWords(moment: string): string {
  const match = /^(\d{4})-(\d{2})-(\d{2})T(\d{2}:\d{2})/.exec(moment);
  if (!match) return moment;
  const [, year, month, day, time] = match;
  return `${Number(day)} ${MONTHS[Number(month) - 1] ?? month} ${year}, ${time}`;
}
