import type { FlagKind, Repetition } from '../exercises/judgement.ts';
import { valueOf } from '../kinematics/measured.ts';
import { median } from '../math/statistics.ts';
import type { SetFindings } from './session-record.ts';

/** What a set or a session comes to. Null where nothing was measured. */
export interface SetSummary {
  /** Full repetitions, the shoulder-dominant ones included. */
  readonly repetitions: number;
  readonly partialRepetitions: number;
  /** Null when there are repetitions and none of them could be judged for it. */
  readonly shoulderDominantRepetitions: number | null;
  /** Full repetitions in which curl or row could be told. */
  readonly judgedRepetitions: number;
  readonly holds: number;
  readonly holdInRangeSeconds: number;
  readonly totalSeconds: number;
  /** Part of the time with a measured elbow, 0 to 1. */
  readonly measuredShare: number | null;
  readonly elbowMinDeg: number | null;
  readonly elbowMaxDeg: number | null;
  /** Median over the full repetitions of the largest travel within each. */
  readonly torsoTravelCmMedian: number | null;
  readonly torsoTravelUpperArmsMedian: number | null;
  /** Median duration of the lowering over the full repetitions. */
  readonly loweringSecondsMedian: number | null;
  /** In how many holds and repetitions, partial ones included, each thing was noticed; what was never noticed is left out. */
  readonly flagged: Readonly<Partial<Record<FlagKind, number>>>;
}

/** A session in figures, as a whole and set by set. */
export interface SessionSummary {
  readonly whole: SetSummary;
  readonly sets: readonly SetSummary[];
}

/** Sums up one set. */
export function summariseSet(findings: SetFindings): SetSummary {
  return summarise([findings]);
}

/** Sums up a session: counts and times are added, medians run over the repetitions of all sets. */
export function summariseSession(sets: readonly SetFindings[]): SessionSummary {
  return { whole: summarise(sets), sets: sets.map(summariseSet) };
}

function summarise(sets: readonly SetFindings[]): SetSummary {
  const repetitions = sets.flatMap(({ judgement }) => judgement.repetitions);
  const full = repetitions.filter(({ partial }) => !partial);
  const holds = sets.flatMap(({ judgement }) => judgement.holds);
  const ranges = sets.flatMap(({ elbowFlexion }) => elbowFlexion ?? []);
  const totalSeconds = sum(sets.map(({ measuredTime }) => measuredTime.totalSeconds));
  return {
    repetitions: full.length,
    partialRepetitions: repetitions.length - full.length,
    shoulderDominantRepetitions: shoulderDominant(full),
    judgedRepetitions: full.filter((repetition) => repetition.shoulderDominant !== null).length,
    holds: holds.length,
    holdInRangeSeconds: sum(holds.map(({ inRangeSeconds }) => inRangeSeconds)),
    totalSeconds,
    measuredShare: measuredShare(sets, totalSeconds),
    elbowMinDeg: ranges.length > 0 ? Math.min(...ranges.map(({ leastDeg }) => leastDeg)) : null,
    elbowMaxDeg: ranges.length > 0 ? Math.max(...ranges.map(({ mostDeg }) => mostDeg)) : null,
    torsoTravelCmMedian: median(full.flatMap(({ torsoTravelCm }) => valueOf(torsoTravelCm) ?? [])),
    torsoTravelUpperArmsMedian: median(
      full.flatMap(({ torsoTravelUpperArms }) => valueOf(torsoTravelUpperArms) ?? []),
    ),
    loweringSecondsMedian: median(full.map(({ loweringSeconds }) => loweringSeconds)),
    flagged: flagged([...holds, ...repetitions]),
  };
}

function flagged(parts: readonly Pick<Repetition, 'flags'>[]): SetSummary['flagged'] {
  const counts: Partial<Record<FlagKind, number>> = {};
  for (const { flags } of parts)
    for (const kind of new Set(flags.map((flag) => flag.kind))) counts[kind] = (counts[kind] ?? 0) + 1;
  return counts;
}

function shoulderDominant(full: readonly Repetition[]): number | null {
  const judged = full.filter((repetition) => repetition.shoulderDominant !== null);
  if (full.length > 0 && judged.length === 0) return null;
  return judged.filter((repetition) => repetition.shoulderDominant === true).length;
}

function measuredShare(sets: readonly SetFindings[], totalSeconds: number): number | null {
  if (totalSeconds <= 0) return null;
  return sum(sets.map(({ measuredTime: { share, totalSeconds: all } }) => (share ?? 0) * all)) / totalSeconds;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
