import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { longCsv } from '../../../src/core/export/long-csv.ts';
import { repetitionsCsv } from '../../../src/core/export/judgement-csv.ts';
import { openedHere } from '../../../src/core/export/open-record.ts';
import { toCsv } from '../../../src/core/export/csv.ts';
import { outlineOf } from '../../../src/core/session/record-opener.ts';
import { isMeasured } from '../../../src/core/kinematics/measured.ts';
import { sampleRecord } from '../../helpers/sample-package.ts';

/* Tables as a reader that others wrote has them (csv-parse, by RFC 4180, strict about quotes and column counts). */

type Row = Readonly<Record<string, string>>;

function rowsOf(csv: string): Row[] {
  return parse(csv, { columns: true });
}

describe('tables in an independent reader', () => {
  it('the time series has a line for each picture and numbers where it says that it measured', async () => {
    const record = sampleRecord();
    const rows = rowsOf(await (await openedHere(record).framesFile()).text());
    expect(rows.length).toBeGreaterThan(100);
    for (const [index, { set, time_s }] of rows.entries()) {
      const before = rows[index - 1];
      // Each set has a clock of its own.
      if (before?.['set'] === set) expect(Number(time_s)).toBeGreaterThan(Number(before?.['time_s']));
    }
    for (const { measured, elbow_flexion_deg: angle, reason } of rows) {
      if (measured === '1') expect(Number.isFinite(Number(angle)) && angle !== '').toBe(true);
      else expect([angle, reason === '']).toEqual(['', false]);
    }
  });

  it('the repetitions have a line each, with the times of the record', () => {
    const record = sampleRecord();
    const rows = rowsOf(repetitionsCsv(outlineOf(record)));
    const judged = record.sets.flatMap(({ judgement }) => judgement.repetitions);
    expect(rows.map(({ lowering_s }) => Number(lowering_s))).toEqual(
      judged.map(({ loweringSeconds }) => Number(loweringSeconds.toFixed(2))),
    );
  });

  it('the long table has a line for each measurement, with unit and interval, as the record has them', () => {
    const record = sampleRecord();
    const rows = rowsOf(longCsv(outlineOf(record)));
    const judged = record.sets.flatMap(({ judgement }) => judgement.repetitions);
    const ranges = rows.filter(({ quantity }) => quantity === 'range');
    expect(ranges.length).toBe(judged.length);
    for (const [index, { rangeDeg }] of judged.entries()) {
      const row = ranges[index];
      if (!isMeasured(rangeDeg)) {
        expect(row).toMatchObject({ value: '', lower: '', upper: '', not_measured: rangeDeg.notMeasured });
        continue;
      }
      expect([row?.['value'], row?.['lower'], row?.['upper']].map(Number)).toEqual(
        [rangeDeg.value, rangeDeg.low, rangeDeg.high].map((value) => Number(value.toFixed(1))),
      );
      expect(row).toMatchObject({ unit: 'deg', session: record.id, part: 'repetition', not_measured: '' });
    }
    expect(judged.some(({ rangeDeg }) => isMeasured(rangeDeg))).toBe(true);
  });

  it('text with commas, quotes and line breaks comes back as it was', () => {
    const text = 'He said "lower, slowly"\nand again';
    expect(rowsOf(toCsv([{ name: 'note', cell: (row: string) => row }], [text]))).toEqual([{ note: text }]);
  });
});
