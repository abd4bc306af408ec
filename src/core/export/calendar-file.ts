import { dateOf, dayOf, instantSeconds, type DayNumber } from '../plan/calendar.ts';

/** A reminder of the question of the next morning. */
export interface MorningReminder {
  /** The training day's own id: a second file for the same day replaces the first reminder. */
  readonly dayId: string;
  /** When the session ended, with offset; the reminder is for the morning after. */
  readonly endedAt: string;
  /** Now, with offset. */
  readonly moment: string;
  /** Where the question waits, without a plan in it; null for none. */
  readonly address: string | null;
}

/** When the reminder rings, on the person's own clock. Common practice, no source. */
const RINGS_AT = { hour: 8, minute: 0, minutesLong: 5 };
const SUMMARY = 'How does your arm feel this morning?';
const DESCRIPTION =
  'Pain from 0, none, to 10, the most you can think of; and where. Open the page and answer.';

/**
 * The reminder as an iCalendar file (RFC 5545), to be opened by any calendar. It names no exercise and no person. Its time
 * has no zone (form 1 of section 3.3.5): eight in the morning wherever the person then is.
 */
export function morningReminder({ dayId, endedAt, moment, address }: MorningReminder): string {
  const morning = dayOf(endedAt) + 1;
  const { hour, minute, minutesLong } = RINGS_AT;
  return calendarText([
    ['BEGIN', 'VCALENDAR'],
    ['VERSION', '2.0'],
    ['PRODID', '-//Forearmed//Next morning//EN'],
    ['CALSCALE', 'GREGORIAN'],
    ['METHOD', 'PUBLISH'],
    ['BEGIN', 'VEVENT'],
    ['UID', `next-morning-${dayId}`],
    ['DTSTAMP', utc(moment)],
    ['DTSTART', local(morning, hour, minute)],
    ['DURATION', `PT${minutesLong}M`],
    ['SUMMARY', escaped(SUMMARY)],
    ['DESCRIPTION', escaped(DESCRIPTION)],
    ...(address === null ? [] : [['URL', address] as const]),
    ['TRANSP', 'TRANSPARENT'],
    ['CLASS', 'PRIVATE'],
    ['BEGIN', 'VALARM'],
    ['ACTION', 'DISPLAY'],
    ['TRIGGER', 'PT0S'],
    ['DESCRIPTION', escaped(SUMMARY)],
    ['END', 'VALARM'],
    ['END', 'VEVENT'],
    ['END', 'VCALENDAR'],
  ]);
}

/** Octets that a line has at most, without its end (section 3.1). */
const MOST_OCTETS = 75;

/** Content lines, each ended by CRLF and folded where it is longer than 75 octets. Throws on a value with a line break. */
export function calendarText(lines: readonly (readonly [name: string, value: string])[]): string {
  return lines
    .map(([name, value]) => {
      if (/[\r\n]/.test(value)) throw new Error(`calendarText: the value of ${name} has a line break.`);
      return `${folded(`${name}:${value}`)}\r\n`;
    })
    .join('');
}

/** A text value with backslash, semicolon, comma and line break escaped (section 3.3.11). */
export function escaped(text: string): string {
  return text.replace(/[\\;,]/g, '\\$&').replace(/\r\n|\r|\n/g, '\\n');
}

/** Broken into lines of at most 75 octets, the later ones after a space; never within a character. */
function folded(line: string): string {
  const parts: string[] = [];
  let part = '';
  let octets = 0;
  for (const character of line) {
    const size = octetsOf(character);
    if (octets + size > MOST_OCTETS) {
      parts.push(part);
      part = ' ';
      octets = 1;
    }
    part += character;
    octets += size;
  }
  return [...parts, part].join('\r\n');
}

/** Octets of one character in UTF-8 (RFC 3629). */
function octetsOf(character: string): number {
  const code = character.codePointAt(0) ?? 0;
  if (code < 0x80) return 1;
  if (code < 0x800) return 2;
  return code < 0x10000 ? 3 : 4;
}

function utc(moment: string): string {
  const seconds = Math.floor(instantSeconds(moment));
  const day = Math.floor(seconds / 86_400);
  const ofDay = seconds - day * 86_400;
  return `${local(day, Math.floor(ofDay / 3600), Math.floor(ofDay / 60) % 60, ofDay % 60)}Z`;
}

function local(day: DayNumber, hour: number, minute: number, second = 0): string {
  const { year, month, day: ofMonth } = dateOf(day);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${String(year).padStart(4, '0')}${two(month)}${two(ofMonth)}T${two(hour)}${two(minute)}${two(second)}`;
}
