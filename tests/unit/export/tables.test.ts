import { describe, expect, it } from 'vitest';
import { framesCsv } from '../../../src/core/export/frames-csv.ts';
import { holdsCsv, repetitionsCsv } from '../../../src/core/export/judgement-csv.ts';
import { summaryCsv, type ClipRow } from '../../../src/core/export/summary-csv.ts';
import { recomputeSet } from '../../../src/core/session/build-session.ts';
import type { SessionRecord } from '../../../src/core/session/session-record.ts';
import { summariseSession } from '../../../src/core/session/summary.ts';
import { withPose } from '../../helpers/synthetic-body.ts';
import { curlFilm, holdFilm, recordOf, sampleHeader } from '../session/sample-session.ts';

/** The lines of a table without quoted cells, by name. */
function read(csv: string): Record<string, string>[] {
  expect(csv.endsWith('\n')).toBe(true);
  const [head = '', ...lines] = csv.trimEnd().split('\n');
  const names = head.split(',');
  return lines.map((line) => {
    const cells = line.split(',');
    expect(cells).toHaveLength(names.length);
    return Object.fromEntries(names.map((name, index) => [name, cells[index] ?? '']));
  });
}

function framesOf(record: SessionRecord): string {
  const sets = record.sets.map((_, index) => ({ ...recomputeSet(record, index), setNumber: index + 1 }));
  return framesCsv(sets);
}

describe('the table of frames', () => {
  const frames = curlFilm(9).map((frame) =>
    withPose(frame, (pose) => (frame.timeSeconds > 4 && frame.timeSeconds < 6 ? null : pose)),
  );
  const csv = framesOf(recordOf([frames, curlFilm(5, 3)]));
  const rows = read(csv);

  it('begins with the columns on which others rely, by name and place', () => {
    expect(
      csv.startsWith(
        'time_s,elbow_flexion_deg,elbow_flexion_low_deg,elbow_flexion_high_deg,shoulder_flexion_deg,trunk_inclination_deg,torso_travel_cm,phase,measured,reason,',
      ),
    ).toBe(true);
  });

  it('has a line for each frame of each set, with its own time', () => {
    expect(rows).toHaveLength(9 * 30 + 5 * 30);
    expect(rows.slice(0, 4).map((row) => row['time_s'])).toEqual(['0.0000', '0.0333', '0.0667', '0.1000']);
    expect(new Set(rows.map((row) => row['set']))).toEqual(new Set(['1', '2']));
  });

  it('leaves cells empty where nobody was seen, and says why', () => {
    const unseen = rows.filter(
      (row) => row['set'] === '1' && Number(row['time_s']) > 4.2 && Number(row['time_s']) < 5.8,
    );
    expect(unseen.length).toBeGreaterThan(40);
    for (const row of unseen) {
      expect([row['measured'], row['reason'], row['elbow_flexion_deg'], row['torso_travel_cm']]).toEqual([
        '0',
        'nobody',
        '',
        '',
      ]);
    }
  });

  it('has the value within its interval, and no reason, where it was measured', () => {
    const seen = rows.filter((row) => row['measured'] === '1');
    expect(seen.length).toBeGreaterThan(300);
    for (const row of seen) {
      expect(row['reason']).toBe('');
      expect(Number(row['elbow_flexion_low_deg'])).toBeLessThan(Number(row['elbow_flexion_deg']));
      expect(Number(row['elbow_flexion_high_deg'])).toBeGreaterThan(Number(row['elbow_flexion_deg']));
    }
  });

  it('names the phases of a curl', () => {
    const phases = new Set(rows.map((row) => row['phase']));
    expect(phases).toContain('bending');
    expect(phases).toContain('lowering');
  });
});

describe('the table of clips', () => {
  const record = recordOf([curlFilm(20)]);
  const measured: ClipRow = {
    clip: 'curl, evening.mp4',
    settings: record.settings,
    durationSeconds: 20.0166,
    frames: 600,
    summary: summariseSession(record.sets).whole,
    wallSeconds: 31.27,
    problem: null,
  };
  const failed: ClipRow = {
    ...measured,
    clip: 'empty.mp4',
    durationSeconds: null,
    frames: null,
    summary: null,
    problem: 'This clip is empty. Choose another one.',
  };
  const csv = summaryCsv([measured, failed]);

  it('begins with the columns on which others rely, by name and place', () => {
    expect(
      csv.startsWith(
        'clip,exercise,side,duration_s,frames,measured_share,repetitions,partial_repetitions,shoulder_dominant_repetitions,hold_in_range_s,elbow_min_deg,elbow_max_deg,torso_travel_cm_median,lowering_s_median,wall_s,problem',
      ),
    ).toBe(true);
  });

  it('has the figures of a clip, its name in quotation marks where it holds a comma', () => {
    const [, line = ''] = csv.split('\n');
    expect(line).toMatch(/^"curl, evening\.mp4",free-curl,left,20\.017,600,(1|0\.99\d*),5,0,0,0,/);
    expect(line).toMatch(/,31\.3,,/);
  });

  it('has a line for a clip that could not be measured, empty but for the reason', () => {
    const [, , line = ''] = csv.split('\n');
    expect(line).toBe('empty.mp4,free-curl,left,,,,,,,,,,,,31.3,This clip is empty. Choose another one.,,');
  });
});

describe('the tables of holds and repetitions', () => {
  it('have a line for each hold, with the effort that was said', () => {
    const record = recordOf([holdFilm(6), holdFilm(5, 92, 9)], sampleHeader('hold'));
    const [first] = record.sets;
    if (first === undefined) throw new Error('no set');
    const answers = { ...first.answers, effortAfterHolds: [7] };
    const rows = read(holdsCsv({ ...record, sets: [{ ...first, answers }, ...record.sets.slice(1)] }));
    expect(rows.map((row) => [row['set'], row['hold'], row['effort_0_to_10']])).toEqual([
      ['1', '1', '7'],
      ['2', '1', ''],
    ]);
    // A hold that lasts as long as the film; half a second may be lost at its ends.
    expect(Number(rows[0]?.['in_range_s'])).toBeGreaterThan(5.4);
    expect(Number(rows[0]?.['mean_flexion_deg'])).toBeCloseTo(90, -1);
  });

  it('have a line for each repetition, with the reason behind each empty measure', () => {
    const header = sampleHeader('free-curl');
    const record = recordOf([curlFilm(12)], { ...header, settings: { ...header.settings, statureCm: null } });
    const rows = read(repetitionsCsv(record));
    expect(rows.map((row) => [row['repetition'], row['partial']])).toEqual([
      ['1', 'no'],
      ['2', 'no'],
      ['3', 'no'],
    ]);
    for (const row of rows) {
      expect(row['torso_travel_cm']).toBe('');
      expect(row['not_measured']).toContain('torso_travel_cm: no-stature');
      expect(row['shoulder_dominant']).toBe('');
      // The film bends and lowers by a cosine of four seconds; the tails are too slow to be seen.
      expect(Number(row['lowering_s'])).toBeGreaterThan(1.4);
      expect(Number(row['lowering_s'])).toBeLessThan(2.2);
    }
  });

  it('have what was felt over the set, and the plan that was followed', () => {
    const plan = {
      planId: '7d0c5f1a-3b62-4e58-8f0d-2c9a64b7e135',
      planVersion: 2,
      stageKey: 'first',
      exerciseKey: 'band',
      dayId: 'c4a9e6d2-58b1-4f37-9d0e-71b3f2a8c590',
    };
    const { sets, ...header } = recordOf([curlFilm(12)]);
    const felt = sets.map((set) => ({
      ...set,
      answers: { ...set.answers, effort: 6, hardest: 'bent' as const },
    }));
    const followed = { plan: plan.planId, plan_version: '2', plan_exercise: 'band' };
    const [row] = read(repetitionsCsv({ ...header, plan, sets: felt }));
    expect(row).toMatchObject({ set_effort_0_to_10: '6', set_hardest: 'bent', ...followed });
    const hold = recordOf([holdFilm(6)], { ...sampleHeader('hold'), plan });
    expect(read(holdsCsv(hold))[0]).toMatchObject(followed);
    const [free] = read(repetitionsCsv({ ...header, sets }));
    expect(free).toMatchObject({ set_effort_0_to_10: '', set_hardest: '', plan: '' });
  });

  it('are only their names where nothing was judged', () => {
    const record = recordOf([holdFilm(4)], sampleHeader('hold'));
    expect(read(repetitionsCsv(record))).toEqual([]);
  });
});
