import type { Phase } from '../exercises/judgement.ts';
import type { KinematicFrame, KinematicSeries } from '../kinematics/kinematic-frame.ts';
import { isMeasured } from '../kinematics/measured.ts';
import { reasonOf } from '../session/measured-time.ts';
import { decimals, toCsv, type Column } from './csv.ts';
import { intervalColumns, valueColumn } from './measured-columns.ts';

/** A measured set for the table of frames, with its number counted from 1. */
export interface FramesOfSet {
  readonly setNumber: number;
  readonly series: KinematicSeries;
  readonly phases: readonly Phase[];
}

interface Row {
  readonly setNumber: number;
  readonly frame: KinematicFrame;
  readonly phase: Phase | null;
  readonly cameraYawDeg: number | null;
}

/**
 * The columns of frames.csv. The first ten are a contract: scripts of others read them by name and place. New columns
 * go behind the last one.
 */
const COLUMNS: readonly Column<Row>[] = [
  { name: 'time_s', cell: ({ frame }) => frame.timeSeconds.toFixed(4) },
  ...intervalColumns<Row>('elbow_flexion', 'deg', 2, ({ frame }) => frame.elbowFlexionDeg),
  valueColumn('shoulder_flexion_deg', 2, ({ frame }) => frame.shoulderFlexionDeg),
  valueColumn('trunk_inclination_deg', 2, ({ frame }) => frame.trunkInclinationDeg),
  valueColumn('torso_travel_cm', 2, ({ frame }) => frame.torsoTravelCm),
  { name: 'phase', cell: ({ phase }) => phase },
  { name: 'measured', cell: ({ frame }) => (isMeasured(frame.elbowFlexionDeg) ? 1 : 0) },
  { name: 'reason', cell: ({ frame }) => reasonOf(frame) },
  { name: 'set', cell: ({ setNumber }) => setNumber },
  valueColumn('torso_travel_upper_arms', 3, ({ frame }) => frame.torsoTravelUpperArms),
  valueColumn('other_elbow_flexion_deg', 2, ({ frame }) => frame.otherElbowFlexionDeg),
  valueColumn('forearm_from_horizontal_deg', 2, ({ frame }) => frame.forearmFromHorizontalDeg),
  valueColumn('forearm_rotation_deg', 1, ({ frame }) => frame.forearmRotationDeg),
  valueColumn('hip_angle_deg', 2, ({ frame }) => frame.hipAngleDeg),
  valueColumn('elbow_behind_trunk_upper_arms', 3, ({ frame }) => frame.elbowBehindTrunkUpperArms),
  { name: 'camera_yaw_deg', cell: ({ cameraYawDeg }) => decimals(cameraYawDeg, 1) },
];

/** The table of all frames: one line for each, empty cells where nothing was measured. */
export function framesCsv(sets: readonly FramesOfSet[]): string {
  const rows = sets.flatMap(({ setNumber, series, phases }) =>
    series.frames.map((frame, index): Row => ({
      setNumber,
      frame,
      phase: phases[index] ?? null,
      cameraYawDeg: series.view.cameraYawDeg,
    })),
  );
  return toCsv(COLUMNS, rows);
}
