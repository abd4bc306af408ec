import type { Flag, Hold, Repetition, RowIndicators } from '../exercises/judgement.ts';
import { isMeasured, type Measured } from '../kinematics/measured.ts';
import type { RecordOutline, SetOutline } from '../session/record-opener.ts';
import { decimals, toCsv, type Column } from './csv.ts';
import { intervalColumns } from './measured-columns.ts';

/** Something with its place in the session: set and number in the set, both counted from 1. */
export interface Placed<Item> {
  readonly plan: RecordOutline['plan'];
  readonly set: SetOutline;
  readonly setNumber: number;
  readonly number: number;
  readonly item: Item;
}

/** Everything judged of every hold, one line for each hold. */
export function holdsCsv(record: RecordOutline): string {
  return toCsv(
    HOLD_COLUMNS,
    placed(record, ({ judgement }) => judgement.holds),
  );
}

/** Everything judged of every repetition, one line for each repetition. */
export function repetitionsCsv(record: RecordOutline): string {
  return toCsv(
    REPETITION_COLUMNS,
    placed(record, ({ judgement }) => judgement.repetitions),
  );
}

/** What was judged in a session with its places, set by set. */
export function placed<Item>(
  record: RecordOutline,
  pick: (set: SetOutline) => readonly Item[],
): Placed<Item>[] {
  return record.sets.flatMap((set, setIndex) =>
    pick(set).map((item, index) => ({
      plan: record.plan,
      set,
      setNumber: setIndex + 1,
      number: index + 1,
      item,
    })),
  );
}

type PlacedColumn<Item> = Column<Placed<Item>>;

/** A measured value of an item: name and unit of its columns, decimals, and how it is had. */
export interface Measure<Item> {
  readonly name: string;
  readonly unit: string;
  readonly places: number;
  readonly pick: (item: Item) => Measured | null;
}

/** A figure of an item that has no interval; the unit is empty for shares and counts. */
export interface Figure<Item> {
  readonly name: string;
  readonly unit: string;
  readonly places: number;
  readonly pick: (item: Item) => number | null;
}

const measure = <Item>(
  name: string,
  unit: string,
  places: number,
  pick: Measure<Item>['pick'],
): Measure<Item> => ({ name, unit, places, pick });

/** Value and interval of each measure, and behind them one column that says why cells are empty. */
function measureColumns<Item>(measures: readonly Measure<Item>[]): PlacedColumn<Item>[] {
  const reasons = (item: Item): string[] =>
    measures.flatMap(({ name, unit, pick }) => {
      const measured = pick(item);
      return measured === null || isMeasured(measured) ? [] : `${name}_${unit}: ${measured.notMeasured}`;
    });
  return [
    ...measures.flatMap(({ name, unit, places, pick }) =>
      intervalColumns<Placed<Item>>(name, unit, places, ({ item }) => pick(item)),
    ),
    { name: 'not_measured', cell: ({ item }) => reasons(item).join('; ') },
  ];
}

const figure = <Item>(
  name: string,
  unit: string,
  places: number,
  pick: Figure<Item>['pick'],
): Figure<Item> => ({ name, unit, places, pick });

function figureColumns<Item>(figures: readonly Figure<Item>[]): PlacedColumn<Item>[] {
  return figures.map(({ name, unit, places, pick }) =>
    number(unit === '' ? name : `${name}_${unit}`, places, pick),
  );
}

const number = <Item>(
  name: string,
  places: number,
  pick: (item: Item) => number | null,
): PlacedColumn<Item> => ({
  name,
  cell: ({ item }) => decimals(pick(item), places),
});

/** Yes, no, or empty where it could not be judged. */
const judged = <Item>(name: string, pick: (item: Item) => boolean | null): PlacedColumn<Item> => ({
  name,
  cell: ({ item }) => {
    const answer = pick(item);
    if (answer === null) return null;
    return answer ? 'yes' : 'no';
  },
});

function placeColumns<Item extends { startSeconds: number; endSeconds: number }>(
  numberName: string,
): PlacedColumn<Item>[] {
  return [
    { name: 'set', cell: ({ setNumber }) => setNumber },
    { name: 'set_started_at', cell: ({ set }) => set.startedAt },
    { name: numberName, cell: (placedItem) => placedItem.number },
    number('start_s', 2, ({ startSeconds }) => startSeconds),
    number('end_s', 2, ({ endSeconds }) => endSeconds),
  ];
}

/** Each flag with the moments that show it, seconds in the set's own clock. */
function flagColumn<Item extends { flags: readonly Flag[] }>(): PlacedColumn<Item> {
  const words = ({ kind, evidenceSeconds }: Flag): string =>
    [kind, ...evidenceSeconds.map((seconds) => seconds.toFixed(2))].join(' ');
  return { name: 'flags', cell: ({ item }) => item.flags.map(words).join('; ') };
}

/** The plan that was followed; empty without one. */
function planColumns<Item>(): PlacedColumn<Item>[] {
  return [
    { name: 'plan', cell: ({ plan }) => plan && plan.planId },
    { name: 'plan_version', cell: ({ plan }) => plan && plan.planVersion },
    { name: 'plan_exercise', cell: ({ plan }) => plan && plan.exerciseKey },
  ];
}

/** What is said of a hold as a bare figure. */
export const HOLD_FIGURES: readonly Figure<Hold>[] = [
  figure('in_range', 's', 1, ({ inRangeSeconds }) => inRangeSeconds),
  figure('in_range_share', '', 3, ({ inRangeShare }) => inRangeShare),
  figure('flexion_sd', 'deg', 2, ({ flexionSdDeg }) => flexionSdDeg),
];

/** What is measured of a hold, with its interval. */
export const HOLD_MEASURES: readonly Measure<Hold>[] = [
  measure('mean_flexion', 'deg', 1, ({ meanFlexionDeg }) => meanFlexionDeg),
  measure('drift', 'deg_per_10s', 2, ({ driftDegPer10s }) => driftDegPer10s),
  measure('forearm_from_horizontal', 'deg', 1, (hold) => hold.forearmFromHorizontalDeg),
  measure('elbow_forward', 'upper_arms', 3, (hold) => hold.elbowForwardUpperArms),
  measure('elbow_forward_drift', 'upper_arms', 3, (hold) => hold.elbowForwardDriftUpperArms),
  measure('hand_rise', 'upper_arms', 3, ({ handRiseUpperArms }) => handRiseUpperArms),
];

const HOLD_COLUMNS: readonly PlacedColumn<Hold>[] = [
  ...placeColumns<Hold>('hold'),
  ...figureColumns(HOLD_FIGURES),
  { name: 'left_by', cell: ({ item }) => item.leftBy },
  { name: 'effort_0_to_10', cell: ({ set, number: hold }) => set.answers.effortAfterHolds[hold - 1] ?? null },
  flagColumn<Hold>(),
  ...measureColumns(HOLD_MEASURES),
  ...planColumns<Hold>(),
];

/** A measure of curl or row; null in exercises without it. */
const row = (
  name: string,
  unit: string,
  places: number,
  pick: (indicators: RowIndicators) => Measured,
): Measure<Repetition> =>
  measure(name, unit, places, ({ row: indicators }) => indicators && pick(indicators));

/** What is said of a repetition as a bare figure. */
export const REPETITION_FIGURES: readonly Figure<Repetition>[] = [
  figure('bending', 's', 2, ({ shorteningSeconds }) => shorteningSeconds),
  figure('top', 's', 2, ({ topSeconds }) => topSeconds),
  figure('lowering', 's', 2, ({ loweringSeconds }) => loweringSeconds),
  figure('lowering_speed', 'deg_per_s', 1, ({ loweringSpeedDegPerS }) => loweringSpeedDegPerS),
  figure('lowering_speed_peaks', '', 0, ({ loweringSpeedPeaks }) => loweringSpeedPeaks),
];

/** What is measured of a repetition, with its interval. */
export const REPETITION_MEASURES: readonly Measure<Repetition>[] = [
  measure('start_flexion', 'deg', 1, ({ startFlexionDeg }) => startFlexionDeg),
  measure('top_flexion', 'deg', 1, ({ topFlexionDeg }) => topFlexionDeg),
  measure('range', 'deg', 1, ({ rangeDeg }) => rangeDeg),
  measure('torso_travel', 'cm', 1, ({ torsoTravelCm }) => torsoTravelCm),
  measure('torso_travel', 'upper_arms', 3, ({ torsoTravelUpperArms: travel }) => travel),
  measure('upper_arm_movement', 'deg', 1, ({ upperArmMovementDeg }) => upperArmMovementDeg),
  measure('trunk_sway', 'deg', 1, ({ trunkSwayDeg }) => trunkSwayDeg),
  measure('forearm_rotation_range', 'deg', 1, (repetition) => repetition.forearmRotationRangeDeg),
  measure('forearm_rotation_mean', 'deg', 1, (repetition) => repetition.forearmRotationMeanDeg),
  row('shoulder_share', 'of_work', 3, ({ shoulderWorkShare }) => shoulderWorkShare),
  row('shoulder_share', 'of_motion', 3, ({ shoulderShare }) => shoulderShare),
  row('elbow_behind_trunk', 'upper_arms', 3, (indicators) => indicators.elbowBehindTrunkUpperArms),
  row('upper_arm_forward', 'deg', 1, ({ upperArmForwardDeg }) => upperArmForwardDeg),
  row('elbow_share', 'of_moment', 3, ({ elbowMomentShare }) => elbowMomentShare),
  row('elbow_share_tilted_least', 'of_moment', 3, (indicators) => indicators.elbowMomentShareTiltedLow),
  row('elbow_share_tilted_most', 'of_moment', 3, (indicators) => indicators.elbowMomentShareTiltedHigh),
  row('hand_to_trunk_start', 'upper_arms', 3, ({ handToTrunkStartUpperArms: start }) => start),
  row('hand_to_trunk_least', 'upper_arms', 3, ({ handToTrunkLeastUpperArms: least }) => least),
  row('hip_sag', 'deg', 1, ({ hipSagDeg }) => hipSagDeg),
  row('hand_slip', 'upper_arms', 3, ({ handSlipUpperArms }) => handSlipUpperArms),
];

const REPETITION_COLUMNS: readonly PlacedColumn<Repetition>[] = [
  ...placeColumns<Repetition>('repetition'),
  judged('partial', ({ partial }) => partial),
  judged('shoulder_dominant', ({ shoulderDominant }) => shoulderDominant),
  ...figureColumns(REPETITION_FIGURES),
  judged('uses_middle', ({ usesMiddle }) => usesMiddle),
  judged('uses_bent_end', ({ usesBentEnd }) => usesBentEnd),
  { name: 'elbow_moment_sign', cell: ({ item }) => item.row && item.row.elbowMomentSign },
  { name: 'shoulder_moment_sign', cell: ({ item }) => item.row && item.row.shoulderMomentSign },
  flagColumn<Repetition>(),
  ...measureColumns(REPETITION_MEASURES),
  { name: 'set_effort_0_to_10', cell: ({ set }) => set.answers.effort },
  { name: 'set_hardest', cell: ({ set }) => set.answers.hardest },
  ...planColumns<Repetition>(),
];
