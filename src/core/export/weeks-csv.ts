import type { DayNumber } from '../plan/calendar.ts';
import { doneDose, setsOfDays, type DoneDose } from '../plan/done-dose.ts';
import type { Trend } from '../plan/trend.ts';
import type { Week } from '../plan/weeks.ts';
import { decimals, toCsv, type Column } from './csv.ts';
import { isoDate } from './iso-date.ts';

/** One week with the sums of its sets. */
interface WeekRow extends Week {
  readonly setCount: number;
  readonly dose: DoneDose;
}

const UNIT_NAMES: Readonly<Record<Trend['unit'], string>> = {
  '0 to 10': '0_to_10',
  s: 's',
  'N m s': 'Nm_s',
  deg: 'deg',
  share: 'share',
};

const doseColumn = (
  name: string,
  dose: keyof DoneDose,
  bound: 'value' | 'least' | 'most',
): Column<WeekRow> => ({ name, cell: (row) => decimals(row.dose[dose]?.figure[bound] ?? null, 1) });

const setsColumn = (name: string, dose: keyof DoneDose): Column<WeekRow> => ({
  name,
  cell: (row) => row.dose[dose]?.setsWithFigure ?? 0,
});

/**
 * The table of weeks: what was asked and done, the dose of the week as a sum, and the mean of every trend over the week's
 * days. Units stand in the names; an empty cell is no figure. Dose and moments are estimates.
 */
export function weeksCsv(weeks: readonly Week[], trends: readonly Trend[]): string {
  const rows = weeks.map((week): WeekRow => {
    const sets = setsOfDays(week.days.flatMap(({ trainingDays }) => trainingDays));
    return { ...week, setCount: sets.length, dose: doneDose(sets) };
  });
  return toCsv([...WEEK_COLUMNS, ...trends.flatMap(trendColumns)], rows);
}

const WEEK_COLUMNS: readonly Column<WeekRow>[] = [
  { name: 'week_of', cell: ({ monday }) => isoDate(monday) },
  { name: 'asked_days', cell: ({ askedDays }) => askedDays },
  { name: 'done_days', cell: ({ doneDays }) => doneDays },
  { name: 'missed_days', cell: ({ missedDays }) => missedDays },
  { name: 'sets', cell: ({ setCount }) => setCount },
  doseColumn('time_under_tension_s', 'timeUnderTension', 'value'),
  setsColumn('time_under_tension_sets', 'timeUnderTension'),
  doseColumn('elbow_impulse_estimate_Nm_s', 'elbowImpulse', 'value'),
  doseColumn('elbow_impulse_least_Nm_s', 'elbowImpulse', 'least'),
  doseColumn('elbow_impulse_most_Nm_s', 'elbowImpulse', 'most'),
  setsColumn('elbow_impulse_sets', 'elbowImpulse'),
];

function trendColumns({ measure, exercise, unit, weeks }: Trend): Column<WeekRow>[] {
  const name = [measure, ...(exercise === null ? [] : [exercise])].join('_').replaceAll('-', '_');
  const weekOf = (monday: DayNumber) => weeks.find((week) => week.monday === monday);
  return [
    {
      name: `${name}_day_mean_${UNIT_NAMES[unit]}`,
      cell: ({ monday }) => decimals(weekOf(monday)?.mean ?? null, 3),
    },
    { name: `${name}_days`, cell: ({ monday }) => weekOf(monday)?.dayCount ?? 0 },
  ];
}
