import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calendarText, escaped, morningReminder } from '../../../src/core/export/calendar-file.ts';

/* Checked against RFC 5545: content lines 3.1, text 3.3.11, date-time 3.3.5, components 3.6.1 and 3.6.6, UID 3.8.4.7. */

const REMINDER = {
  dayId: '11111111-1111-4111-8111-111111111111',
  endedAt: '2026-02-28T23:40:00+01:00',
  moment: '2026-03-01T00:30:05+01:00',
  address: 'https://example.org/arm/',
};
const text = morningReminder(REMINDER);

/** Content lines with folds taken out, as section 3.1 says: a line break and one white space are removed. */
function unfolded(of: string): string[] {
  return of
    .replace(/\r\n[ \t]/g, '')
    .split('\r\n')
    .slice(0, -1);
}

function valueOf(name: string): string[] {
  return unfolded(text).flatMap((line) => (line.startsWith(`${name}:`) ? [line.slice(name.length + 1)] : []));
}

describe('the reminder of the next morning', () => {
  it('ends every line with CRLF and has no other line break', () => {
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });

  it('has no line of more than 75 octets', () => {
    for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
  });

  it('nests its components and has what each must have, once', () => {
    const nesting = unfolded(text).filter((line) => /^(BEGIN|END):/.test(line));
    expect(nesting).toEqual([
      'BEGIN:VCALENDAR',
      'BEGIN:VEVENT',
      'BEGIN:VALARM',
      'END:VALARM',
      'END:VEVENT',
      'END:VCALENDAR',
    ]);
    for (const name of ['VERSION', 'PRODID', 'UID', 'DTSTAMP', 'DTSTART', 'ACTION', 'TRIGGER'])
      expect(valueOf(name), name).toHaveLength(1);
    expect(valueOf('VERSION')).toEqual(['2.0']);
    // An alarm that shows needs ACTION, DESCRIPTION and TRIGGER (3.6.6); the event has a description of its own.
    expect(valueOf('ACTION')).toEqual(['DISPLAY']);
    expect(valueOf('DESCRIPTION')).toHaveLength(2);
  });

  it('is for eight in the morning after, on the person’s own clock, over the end of a month', () => {
    expect(valueOf('DTSTART')).toEqual(['20260301T080000']);
    expect(valueOf('DTSTAMP')).toEqual(['20260228T233005Z']);
  });

  it('is the same entry again when it is made again', () => {
    const again = morningReminder({ ...REMINDER, moment: '2026-03-01T07:00:00+01:00' });
    expect(unfolded(again).find((line) => line.startsWith('UID'))).toBe(`UID:${valueOf('UID')[0] ?? ''}`);
  });

  it('leaves the address out where there is none, and holds no person and no exercise', () => {
    expect(morningReminder({ ...REMINDER, address: null })).not.toContain('URL');
    expect(text).not.toMatch(/curl|hold|biceps|tendon/i);
  });
});

describe('text', () => {
  it('is escaped as in the RFC', () => {
    // RFC 5545, 3.3.11: the example of a text with a comma, a semicolon and line breaks.
    expect(escaped('Project XYZ Final Review\nConference Room - 3B\nCome Prepared.')).toBe(
      'Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.',
    );
    expect(escaped('a\\b;c,d\r\ne')).toBe('a\\\\b\\;c\\,d\\ne');
  });

  it('comes back from folding and escaping as it was, in any script', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), (any) => {
        const written = calendarText([['SUMMARY', escaped(any)]]);
        for (const line of written.split('\r\n')) {
          expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
          // No character is cut in two: every line is text for itself.
          expect(Buffer.from(line).toString()).toBe(line);
        }
        const [line = ''] = unfolded(written);
        const back = line
          .slice('SUMMARY:'.length)
          .replace(/\\(.)/g, (_, sign: string) => (sign === 'n' ? '\n' : sign));
        expect(back).toBe(any.replace(/\r\n|\r/g, '\n'));
      }),
    );
  });

  it('a value that would start a line of its own is refused', () => {
    expect(() => calendarText([['URL', 'x\r\nATTENDEE:mailto:a@example.org']])).toThrow('line break');
  });
});
