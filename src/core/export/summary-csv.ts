import type { ExerciseSettings } from '../exercises/exercise.ts';
import type { SetSummary } from '../session/summary.ts';
import { decimals, toCsv, type Column } from './csv.ts';

/** A clip that was measured, or could not be. */
export interface ClipRow {
  readonly clip: string;
  readonly settings: Pick<ExerciseSettings, 'exercise' | 'side'>;
  readonly durationSeconds: number | null;
  readonly frames: number | null;
  /** Null when the clip could not be measured. */
  readonly summary: SetSummary | null;
  /** How long measuring took. */
  readonly wallSeconds: number;
  /** The sentence that says why the clip could not be measured, or null. */
  readonly problem: string | null;
}

const figure = (
  name: string,
  places: number,
  pick: (summary: SetSummary) => number | null,
): Column<ClipRow> => ({
  name,
  cell: ({ summary }) => decimals(summary && pick(summary), places),
});

/**
 * The columns of summary.csv. The first sixteen are a contract: scripts of others read them by name and place. New
 * columns go behind the last one.
 */
const COLUMNS: readonly Column<ClipRow>[] = [
  { name: 'clip', cell: ({ clip }) => clip },
  { name: 'exercise', cell: ({ settings }) => settings.exercise },
  { name: 'side', cell: ({ settings }) => settings.side },
  { name: 'duration_s', cell: ({ durationSeconds }) => decimals(durationSeconds, 3) },
  { name: 'frames', cell: ({ frames }) => frames },
  figure('measured_share', 4, ({ measuredShare }) => measuredShare),
  figure('repetitions', 0, ({ repetitions }) => repetitions),
  figure('partial_repetitions', 0, ({ partialRepetitions }) => partialRepetitions),
  {
    name: 'shoulder_dominant_repetitions',
    // A count that does not apply to the exercise is 0, as hold seconds are for curls; empty means not judgeable.
    cell: ({ summary, settings }) =>
      summary && (summary.shoulderDominantRepetitions ?? (settings.exercise === 'body-curl' ? null : 0)),
  },
  figure('hold_in_range_s', 2, ({ holdInRangeSeconds }) => holdInRangeSeconds),
  figure('elbow_min_deg', 1, ({ elbowMinDeg }) => elbowMinDeg),
  figure('elbow_max_deg', 1, ({ elbowMaxDeg }) => elbowMaxDeg),
  figure('torso_travel_cm_median', 1, ({ torsoTravelCmMedian }) => torsoTravelCmMedian),
  figure('lowering_s_median', 2, ({ loweringSecondsMedian }) => loweringSecondsMedian),
  { name: 'wall_s', cell: ({ wallSeconds }) => decimals(wallSeconds, 1) },
  { name: 'problem', cell: ({ problem }) => problem },
  { name: 'holds', cell: ({ summary }) => summary && summary.holds },
  figure('torso_travel_upper_arms_median', 2, ({ torsoTravelUpperArmsMedian: travel }) => travel),
];

/** The table of clips: one line for each, also for those that could not be measured. */
export function summaryCsv(clips: readonly ClipRow[]): string {
  return toCsv(COLUMNS, clips);
}
