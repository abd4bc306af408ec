import type { ExerciseSettings } from '../exercises/exercise.ts';
import { setJudgementSchema, type Phase, type SetJudgement } from '../exercises/judgement.ts';
import { judgeByHand, type AskedPart } from '../exercises/judge-by-hand.ts';
import { judgeSet } from '../exercises/judge-set.ts';
import { phasesOf } from '../exercises/phases-of.ts';
import type { Thresholds } from '../exercises/thresholds.ts';
import type { LandmarkSource } from '../kinematics/landmark-errors.ts';
import type { KinematicSeries } from '../kinematics/kinematic-frame.ts';
import { valueOf } from '../kinematics/measured.ts';
import { measureSet } from '../kinematics/measure-set.ts';
import type { PoseFrame } from '../pose/pose-frame.ts';
import { measuredTimeOf, withoutPauses } from './measured-time.ts';
import { asStored, decodeFrames, type FrameSeries } from './quantised-frames.ts';
import { setFindingsSchema, type SessionRecord, type SetFindings } from './session-record.ts';

/** Everything that is worked out from a set's frames. The findings are kept; the rest is had again from the frames. */
export interface JudgedSet {
  readonly findings: SetFindings;
  /** The frames with the precision of the record: what was measured. */
  readonly frames: readonly PoseFrame[];
  readonly series: KinematicSeries;
  /** One for each frame. */
  readonly phases: readonly Phase[];
}

/**
 * Measures and judges a set for the record: on the frames as the record stores them, so that the record's own frames
 * give the same judgement again.
 * @param landmarks - what gave the landmarks; the usual network without it
 */
export function measureAndJudge(
  frames: readonly PoseFrame[],
  settings: ExerciseSettings,
  thresholds: Thresholds,
  landmarks?: LandmarkSource,
): JudgedSet {
  return judgeStored(asStored(frames), { settings, thresholds, landmarks });
}

/** Is told how much of the work is done, 0 to 1. */
export type OnShare = (share: number) => void;

/** The same of a set's stored pieces, in order. */
export function judgePieces(
  pieces: Iterable<FrameSeries>,
  settings: ExerciseSettings,
  thresholds: Thresholds,
  landmarks: LandmarkSource,
): SetFindings {
  return judgeStored([...pieces].flatMap(decodeFrames), { settings, thresholds, landmarks }).findings;
}

/** Works a set of a record out again, by the thresholds in the record. Throws when there is no such set. */
export function recomputeSet(record: SessionRecord, setIndex: number, onShare: OnShare = untold): JudgedSet {
  const set = record.sets[setIndex];
  if (set === undefined) throw new Error(`recomputeSet: the record has no set ${setIndex}.`);
  const { settings, thresholds, estimator } = record;
  const by = { settings, thresholds, landmarks: estimator.model };
  const judged = judgeStored(decodeFrames(set.frames), by, onShare);
  return { ...judged, findings: withoutPauses(judged.findings, set.pauses) };
}

/**
 * Parts of a set in which a person sees one hold or one repetition each, judged by the record's own thresholds, with the
 * precision of the record. Null when one of them cannot be measured.
 */
export function judgeParts(
  { settings, thresholds }: Pick<SessionRecord, 'settings' | 'thresholds'>,
  { series }: JudgedSet,
  parts: readonly AskedPart[],
): SetJudgement | null {
  const judged = judgeByHand(series, settings, thresholds, parts);
  return judged === null ? null : setJudgementSchema.parse(withoutDust(judged));
}

function untold(): void {
  // Nobody asked how far it is.
}

/** Shares of the whole work that are done when frames are decoded, and when they are measured. By `npm run cost`. */
const DECODED_SHARE = 0.15;
const MEASURED_SHARE = 0.75;

/** By what a set is measured and judged. */
interface JudgedBy {
  readonly settings: ExerciseSettings;
  readonly thresholds: Thresholds;
  readonly landmarks: LandmarkSource | undefined;
}

function judgeStored(
  frames: readonly PoseFrame[],
  { settings, thresholds, landmarks }: JudgedBy,
  onShare: OnShare = untold,
): JudgedSet {
  onShare(DECODED_SHARE);
  const series = measureSet(frames, { ...settings, ...(landmarks === undefined ? {} : { landmarks }) });
  onShare(MEASURED_SHARE);
  const judgement = judgeSet(series, settings, thresholds);
  const elbowDeg = series.frames.flatMap(({ elbowFlexionDeg }) => valueOf(elbowFlexionDeg) ?? []);
  const findings = setFindingsSchema.parse(
    withoutDust({
      view: series.view,
      measuredTime: measuredTimeOf(series),
      elbowFlexion: rangeOf(elbowDeg),
      judgement,
    }),
  );
  return { findings, frames, series, phases: phasesOf(series.frames, findings.judgement) };
}

function rangeOf(valuesDeg: readonly number[]): SetFindings['elbowFlexion'] {
  if (valuesDeg.length === 0) return null;
  const [leastDeg, mostDeg] = valuesDeg.reduce(
    ([least, most], value) => [Math.min(least, value), Math.max(most, value)],
    [Infinity, -Infinity],
  );
  return { leastDeg, mostDeg };
}

/**
 * The same plain data with every number to six decimals: far finer than anything measured, and coarser than the last
 * bits in which the sine and the tangent of different browsers differ.
 */
function withoutDust(value: unknown): unknown {
  if (typeof value === 'number') return Math.round(value * 1e6) / 1e6 + 0;
  if (Array.isArray(value)) return value.map(withoutDust);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, withoutDust(item)]));
}
