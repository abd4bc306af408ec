/** A date of the wall clock as a moment with offset, for example 2026-03-02T18:05:09.250+01:00. */
export function momentOf(date: Date): string {
  const offsetMinutes = -date.getTimezoneOffset();
  const local = new Date(date.getTime() + offsetMinutes * 60_000).toISOString().slice(0, -1);
  const whole = Math.abs(offsetMinutes);
  const two = (value: number): string => String(Math.floor(value)).padStart(2, '0');
  return `${local}${offsetMinutes < 0 ? '-' : '+'}${two(whole / 60)}:${two(whole % 60)}`;
}
