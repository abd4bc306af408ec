/*
 * Days and weeks out of moments of the wall clock with their offset (2026-03-02T18:05:09.250+01:00). A training day is
 * the day on the person's own calendar, so that the date is taken as written and never turned into another zone's.
 */

/** Days since 1 January 1970 on the civil calendar: one number for each date. */
export type DayNumber = number;

const MOMENT =
  /^(\d{4})-(\d{2})-(\d{2})T(\d{2}):(\d{2})(?::(\d{2})(?:\.(\d+))?)?(?:Z|([+-])(\d{2}):?(\d{2}))$/;
const DAYS_IN_WEEK = 7;

/** The date of a moment as written on the person's own clock. Throws when the text is no moment. */
export function dayOf(moment: string): DayNumber {
  const { year, month, day } = partsOf(moment);
  return dayNumber(year, month, day);
}

/** Seconds since 1 January 1970 in universal time. Throws when the text is no moment. */
export function instantSeconds(moment: string): number {
  const { year, month, day, secondsOfDay, offsetSeconds } = partsOf(moment);
  return dayNumber(year, month, day) * 86_400 + secondsOfDay - offsetSeconds;
}

/** The Monday of the week that a day lies in (ISO 8601 weeks start on Monday; 1 January 1970 was a Thursday). */
export function mondayOf(day: DayNumber): DayNumber {
  return day - ((((day + 3) % DAYS_IN_WEEK) + DAYS_IN_WEEK) % DAYS_IN_WEEK);
}

/** A day as year, month (1 to 12) and day of the month. */
export interface CivilDate {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}

/**
 * The date of a day number; proleptic Gregorian calendar.
 * Source: Howard Hinnant, chrono-compatible low-level date algorithms, civil_from_days.
 */
export function dateOf(day: DayNumber): CivilDate {
  const shifted = day + 719_468;
  const era = Math.floor(shifted / 146_097);
  const ofEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (ofEra - Math.floor(ofEra / 1460) + Math.floor(ofEra / 36_524) - Math.floor(ofEra / 146_096)) / 365,
  );
  const ofYear = ofEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const shiftedMonth = Math.floor((5 * ofYear + 2) / 153);
  const month = shiftedMonth < 10 ? shiftedMonth + 3 : shiftedMonth - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: ofYear - Math.floor((153 * shiftedMonth + 2) / 5) + 1,
  };
}

/** Day number of a date. Source: the same, days_from_civil. */
function dayNumber(year: number, month: number, day: number): DayNumber {
  const shiftedYear = month <= 2 ? year - 1 : year;
  const era = Math.floor(shiftedYear / 400);
  const yearOfEra = shiftedYear - era * 400;
  const ofYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  const ofEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + ofYear;
  return era * 146_097 + ofEra - 719_468;
}

function partsOf(moment: string): CivilDate & { secondsOfDay: number; offsetSeconds: number } {
  const found = MOMENT.exec(moment);
  if (found === null) throw new Error(`calendar: "${moment}" is no moment with an offset.`);
  const number = (index: number): number => Number(found[index] ?? 0);
  const sign = found[8] === '-' ? -1 : 1;
  return {
    year: number(1),
    month: number(2),
    day: number(3),
    secondsOfDay: number(4) * 3600 + number(5) * 60 + number(6),
    offsetSeconds: sign * (number(9) * 3600 + number(10) * 60),
  };
}
