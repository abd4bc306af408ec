import { describe, expect, it } from 'vitest';
import { decimals, toCsv } from '../../../src/core/export/csv.ts';

describe('a table as comma-separated text', () => {
  const columns = [
    { name: 'name', cell: ({ name }: { name: string | null; size: number | null }) => name },
    { name: 'size', cell: ({ size }: { name: string | null; size: number | null }) => size },
  ];

  it('quotes as in RFC 4180, section 2: commas, quotation marks and line breaks', () => {
    // Rules 5 to 7 of the RFC; the third line is its own example of doubled quotation marks.
    const rows = [
      { name: 'plain', size: 1 },
      { name: 'aaa,bbb', size: 2 },
      { name: 'b"bb', size: 3 },
      { name: 'two\r\nlines', size: 4 },
    ];
    expect(toCsv(columns, rows)).toBe('name,size\nplain,1\n"aaa,bbb",2\n"b""bb",3\n"two\r\nlines",4\n');
  });

  it('leaves a cell empty where nothing was measured, and keeps a zero', () => {
    expect(toCsv(columns, [{ name: null, size: 0 }])).toBe('name,size\n,0\n');
  });

  it('has its line of names also without a row', () => {
    expect(toCsv(columns, [])).toBe('name,size\n');
  });

  it('rounds without a minus zero, and nothing to a figure', () => {
    expect(decimals(12.3456, 2)).toBe(12.35);
    expect(Object.is(decimals(-0.001, 2), 0)).toBe(true);
    expect(decimals(null, 2)).toBeNull();
  });
});
