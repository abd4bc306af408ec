import type { ClipTruth } from '../../demo-clips/generator/truth-schema.ts';
import type { Repetition } from '../../src/core/exercises/judgement.ts';
import { valueOf } from '../../src/core/kinematics/measured.ts';
import type { SessionRecord } from '../../src/core/session/session-record.ts';
import type { Table } from './read-table.ts';

/** One figure of a clip beside its truth. */
interface Row {
  readonly what: string;
  readonly truth: string;
  readonly measured: string;
  readonly goal: string;
  readonly met: boolean;
}

/** A clip against its truth. */
export interface Comparison {
  readonly rows: readonly Row[];
}

/** What is compared. */
export interface Compared {
  readonly truth: ClipTruth;
  readonly truthFrames: Table;
  readonly record: SessionRecord;
  readonly frames: Table;
}

/** Goals as agreed for square views; a view turned further than this has the angle goal of its interval only. */
const SQUARE_YAW_DEG = 12;
const GOAL = { holdSeconds: 0.3, elbowDeg: 4, travelCm: 2, lowerSeconds: 0.4, coverage: 0.9 };

/** Sets a clip's record and frames beside its truth. */
export function compareWithTruth(compared: Compared): Comparison {
  const { truth, record } = compared;
  const repetitions = record.sets.flatMap((set) => set.judgement.repetitions);
  const holds = record.sets.flatMap((set) => set.judgement.holds);
  const rows: Row[] = [
    count(
      'repetitions',
      truth.repetitions.filter((r) => !r.partial),
      repetitions.filter((r) => !r.partial),
    ),
    count(
      'partial repetitions',
      truth.repetitions.filter((r) => r.partial),
      repetitions.filter((r) => r.partial),
    ),
    count(
      'shoulder-dominant',
      truth.repetitions.filter((r) => r.shoulderDominant),
      repetitions.filter((r) => r.shoulderDominant === true),
    ),
    ...holdRows(
      truth,
      holds.reduce((sum, hold) => sum + hold.inRangeSeconds, 0),
    ),
    ...angleRows(compared),
    ...travelRows(compared, repetitions),
    ...lowerRows(truth, repetitions),
  ];
  return { rows };
}

function count(what: string, truth: readonly unknown[], measured: readonly unknown[]): Row {
  return {
    what,
    truth: String(truth.length),
    measured: String(measured.length),
    goal: 'equal',
    met: truth.length === measured.length,
  };
}

function holdRows(truth: ClipTruth, measuredSeconds: number): Row[] {
  if (truth.exercise !== 'hold') return [];
  const trueSeconds = truth.holdsInRangeS.reduce((sum, [start, end]) => sum + end - start, 0);
  return [bounded('hold in range, s', trueSeconds, measuredSeconds, GOAL.holdSeconds, 2)];
}

function bounded(what: string, truth: number, measured: number, goal: number, digits: number): Row {
  return {
    what,
    truth: truth.toFixed(digits),
    measured: measured.toFixed(digits),
    goal: `± ${goal}`,
    met: Math.abs(truth - measured) <= goal,
  };
}

/** Rows by their time: not every picture of a clip is measured. */
function rowsByTime(table: Table): ReadonlyMap<number, number> {
  return new Map(Array.from({ length: table.length }, (_, row) => [milliseconds(table, row), row]));
}

function milliseconds(table: Table, row: number): number {
  return Math.round((table.number(row, 'time_s') ?? Number.NaN) * 1000);
}

/** Absolute errors of the elbow over the frames that were measured, degrees, rising; covered: how many intervals hold the truth. */
export function elbowErrors(
  truthFrames: Table,
  frames: Table,
): { readonly errors: readonly number[]; readonly covered: number } {
  const errors: number[] = [];
  let covered = 0;
  const trueRows = rowsByTime(truthFrames);
  for (let row = 0; row < frames.length; row++) {
    const trueRow = trueRows.get(milliseconds(frames, row));
    const trueDeg = trueRow === undefined ? null : truthFrames.number(trueRow, 'elbow_flexion_deg');
    const deg = frames.number(row, 'elbow_flexion_deg');
    if (trueDeg === null || deg === null) continue;
    errors.push(Math.abs(deg - trueDeg));
    const low = frames.number(row, 'elbow_flexion_low_deg') ?? deg;
    const high = frames.number(row, 'elbow_flexion_high_deg') ?? deg;
    if (low <= trueDeg && trueDeg <= high) covered++;
  }
  return { errors: errors.toSorted((a, b) => a - b), covered };
}

/** Mean absolute error, 95th percentile and coverage of the elbow's interval over the frames measured. */
function angleRows({ truth, truthFrames, frames }: Compared): Row[] {
  const { errors, covered } = elbowErrors(truthFrames, frames);
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
  const p95 = errors[Math.floor(errors.length * 0.95)] ?? NaN;
  const square = Math.abs(truth.cameraYawDeg) <= SQUARE_YAW_DEG;
  return [
    {
      what: `elbow mean |error|, deg (p95 ${p95.toFixed(1)})`,
      truth: `yaw ${truth.cameraYawDeg}`,
      measured: mean.toFixed(2),
      goal: square ? `<= ${GOAL.elbowDeg}` : 'none (oblique)',
      met: !square || mean <= GOAL.elbowDeg,
    },
    {
      what: 'elbow inside its interval',
      truth: '0.95',
      measured: (covered / errors.length).toFixed(3),
      goal: `>= ${GOAL.coverage}`,
      met: covered / errors.length >= GOAL.coverage,
    },
  ];
}

/** Each repetition's travel: largest distance of the true mid-shoulder from its place at the repetition's start. */
function travelRows({ truth, truthFrames }: Compared, repetitions: readonly Repetition[]): Row[] {
  if (truth.exercise !== 'body-curl') return [];
  return truth.repetitions.map(({ startS, endS }, i) => {
    const rows = [...Array(truthFrames.length).keys()].filter((row) => {
      const time = truthFrames.number(row, 'time_s') ?? NaN;
      return time >= startS && time <= endS;
    });
    const place = (row: number) =>
      ['x', 'y', 'z'].map((axis) => truthFrames.number(row, `mid_shoulder_${axis}_m`) ?? NaN);
    const first = place(rows[0] ?? 0);
    const trueCm =
      100 * Math.max(...rows.map((row) => Math.hypot(...place(row).map((p, k) => p - (first[k] ?? NaN)))));
    const own = repetitions[i];
    const cm = own ? (valueOf(own.torsoTravelCm) ?? NaN) : NaN;
    return bounded(`torso travel of repetition ${i + 1}, cm`, trueCm, cm, GOAL.travelCm, 1);
  });
}

/** Mean difference of the lowering time over the repetitions, when their number is right. */
function lowerRows(truth: ClipTruth, repetitions: readonly Repetition[]): Row[] {
  if (truth.repetitions.length === 0 || truth.repetitions.length !== repetitions.length) return [];
  const mean = (times: readonly number[]) => times.reduce((sum, time) => sum + time, 0) / times.length;
  const trueMean = mean(truth.repetitions.map((repetition) => repetition.lowerS));
  return [
    bounded(
      'lowering time, mean, s',
      trueMean,
      mean(repetitions.map((r) => r.loweringSeconds)),
      GOAL.lowerSeconds,
      2,
    ),
  ];
}
