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
