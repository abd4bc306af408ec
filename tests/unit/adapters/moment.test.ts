import { afterEach, describe, expect, it } from 'vitest';
import { momentOf } from '../../../src/adapters/clock/moment.ts';

const zone = process.env['TZ'];
afterEach(() => {
  if (zone === undefined) delete process.env['TZ'];
  else process.env['TZ'] = zone;
});

describe('a moment with its offset', () => {
  it.each([
    ['UTC', '2026-03-02T17:05:09.250+00:00'],
    ['Europe/Berlin', '2026-03-02T18:05:09.250+01:00'],
    ['America/St_Johns', '2026-03-02T13:35:09.250-03:30'],
    ['Asia/Kathmandu', '2026-03-02T22:50:09.250+05:45'],
  ])('is the local time of %s', (name, written) => {
    process.env['TZ'] = name;
    const date = new Date('2026-03-02T17:05:09.250Z');
    expect(momentOf(date)).toBe(written);
    expect(new Date(written).getTime()).toBe(date.getTime());
  });
});
