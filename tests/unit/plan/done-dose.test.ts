import { describe, expect, it } from 'vitest';
import { weeksCsv } from '../../../src/core/export/weeks-csv.ts';
import { DOSE_MEANING, summedDoseWords } from '../../../src/core/feedback/done-dose-words.ts';
import { doneDose, setsOfDays } from '../../../src/core/plan/done-dose.ts';
import { trendOf } from '../../../src/core/plan/trend.ts';
import { weekView } from '../../../src/core/plan/weeks.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';

const first = inventedPlan();
const plan = nextVersion(first, { stageKey: 'body-curl' }, '2026-03-01T11:00:00+01:00');
const impulse = { value: 100, least: 60, most: 150 };
/** A day of holds of 30 s without a described bar, and of body-moving curls of 8 of 6 s with 100 N m s each. */
const day = (date: string) => dayOn(plan, date, { measured: { elbowImpulseNms: impulse } });
const sets = setsOfDays([day('03-02')]);
const curls = sets.filter(({ measured }) => measured?.repetitions !== null).length;
const holds = sets.length - curls;

describe('the dose that was done', () => {
  it('of one set is its own', () => {
    const [curl] = sets.filter(({ measured }) => measured?.repetitions !== null);
    if (curl === undefined) throw new Error('The day has a curl.');
    const { elbowImpulse, timeUnderTension } = doneDose([curl]);
    expect(elbowImpulse?.figure).toEqual({ ...impulse, of: 'elbow-impulse' });
    expect(summedDoseWords(elbowImpulse)).toBe('100 N m s (60 to 150)');
    expect(summedDoseWords(timeUnderTension)).toMatch(/^\d+ s$/);
  });

  it('of a day is the sum, and says of how many sets where some have no figure', () => {
    const { elbowImpulse, timeUnderTension } = doneDose(sets);
    expect(elbowImpulse).toMatchObject({
      figure: { value: 100 * curls, least: 60 * curls, most: 150 * curls },
      setsWithFigure: curls,
      setCount: holds + curls,
    });
    const seconds = sets.reduce((sum, { measured }) => sum + (measured?.timeUnderTensionSeconds ?? 0), 0);
    expect(timeUnderTension?.figure.value).toBeCloseTo(seconds, 9);
    expect(summedDoseWords(elbowImpulse)).toContain(`, from ${curls} of ${holds + curls} sets`);
    expect(summedDoseWords(timeUnderTension)).not.toContain('from');
  });

  it('is not known where no set has it, and is never said to be a force in the tendon', () => {
    const unmeasured = doneDose(sets.map((set) => ({ ...set, measured: null })));
    expect(unmeasured).toEqual({ timeUnderTension: null, elbowImpulse: null });
    expect(summedDoseWords(null)).toBe('not known');
    expect(DOSE_MEANING).toMatch(/^An estimate of .*An estimate of .*never a force in the tendon/);
  });
});

describe('the table of weeks', () => {
  const days = [day('03-02'), day('03-04'), day('03-16')];
  const weeks = weekView([first, plan], days, '2026-03-20T10:00:00+01:00');
  const [head = '', ...lines] = weeksCsv(weeks, trendOf(days)).trimEnd().split('\n');
  const names = head.split(',');
  const rows = lines.map((line) => Object.fromEntries(line.split(',').map((cell, i) => [names[i], cell])));

  it('has a line for each week, with the week’s sums and their span', () => {
    expect(rows.map((row) => row['week_of'])).toEqual([
      '2026-02-23',
      '2026-03-02',
      '2026-03-09',
      '2026-03-16',
    ]);
    expect(rows[1]).toMatchObject({
      done_days: '2',
      sets: String(2 * sets.length),
      elbow_impulse_estimate_Nm_s: String(200 * curls),
      elbow_impulse_least_Nm_s: String(120 * curls),
      elbow_impulse_most_Nm_s: String(300 * curls),
      elbow_impulse_sets: String(2 * curls),
    });
    expect(rows[2]).toMatchObject({ sets: '0', elbow_impulse_estimate_Nm_s: '', time_under_tension_s: '' });
  });

  it('has what the charts show, with units in the names and no figure for weeks without one', () => {
    expect(names).toEqual(
      expect.arrayContaining([
        'pain_before_day_mean_0_to_10',
        'lowering_body_curl_day_mean_s',
        'range_body_curl_day_mean_deg',
        'shoulder_share_body_curl_day_mean_share',
        'impulse_body_curl_day_mean_Nm_s',
      ]),
    );
    expect(rows.map((row) => row['lowering_body_curl_day_mean_s'])).toEqual(['', '3', '', '3']);
    expect(rows.map((row) => row['lowering_body_curl_days'])).toEqual(['0', '2', '0', '1']);
    expect(rows[1]?.['impulse_body_curl_day_mean_Nm_s']).toBe(String(100 * curls));
  });
});
