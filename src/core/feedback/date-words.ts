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
const WEEKDAYS = ['Thu', 'Fri', 'Sat', 'Sun', 'Mon', 'Tue', 'Wed'];

/** A day as it is read: "Mon 2 March". */
export function dateWords(day: DayNumber): string {
  const { month, day: ofMonth } = dateOf(day);
  return `${WEEKDAYS[((day % 7) + 7) % 7] ?? ''} ${ofMonth} ${MONTHS[month - 1] ?? ''}`;
}
