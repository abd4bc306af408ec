import { z } from 'zod';
import { measuredSchema } from '../kinematics/measured.ts';

/** What can be noticed in a hold or a repetition. Each flag names the times that show it. */
export const FLAG_KINDS = [
  'too-straight',
  'too-bent',
  'drifting',
  'unsteady',
  'forearm-not-level',
  'elbow-forward',
  'elbow-back',
  'elbow-above-shoulder',
  'hand-rising',
  'hand-not-under-bar',
  'shoulder-dominant',
  'elbow-behind-trunk',
  'upper-arm-forward',
  'hip-sag',
  'hand-slip',
  'upper-arm-moving',
  'trunk-sway',
  'lowering-fast',
  'forearm-not-supinated',
  'forearm-not-turning',
  'range-middle-missing',
  'range-bent-end-missing',
] as const;
const flagKindSchema = z.enum(FLAG_KINDS);
export type FlagKind = z.infer<typeof flagKindSchema>;

/** A start and an end, seconds in the set's own clock. */
export const spanSchema = z.object({ startSeconds: z.number(), endSeconds: z.number() });
export type Span = z.infer<typeof spanSchema>;

/** Something noticed: the span in which it shows, and the moments to look at. */
export const flagSchema = spanSchema.extend({
  kind: flagKindSchema,
  evidenceSeconds: z.array(z.number()),
});
export type Flag = z.infer<typeof flagSchema>;

/** One hold near the target angle. Time counts in the target range only. */
export const holdSchema = spanSchema.extend({
  inRangeSpans: z.array(spanSchema),
  inRangeSeconds: z.number(),
  /** In-range time over the time from first entry to last exit, 0 to 1. */
  inRangeShare: z.number(),
  meanFlexionDeg: measuredSchema,
  flexionSdDeg: z.number().nullable(),
  driftDegPer10s: measuredSchema,
  /** The side by which the range was left the last time; null when the set ended in the range. */
  leftBy: z.enum(['too-straight', 'too-bent']).nullable(),
  forearmFromHorizontalDeg: measuredSchema,
  /** Elbow in front of (positive) or behind (negative) the shoulder, upper-arm lengths: mean, and its change. */
  elbowForwardUpperArms: measuredSchema,
  elbowForwardDriftUpperArms: measuredSchema,
  /** How far the hand rose above its place at the start of the hold, upper-arm lengths. */
  handRiseUpperArms: measuredSchema,
  flags: z.array(flagSchema),
});
export type Hold = z.infer<typeof holdSchema>;

/** The indicators of curl or row in one repetition, each with its interval. */
export const rowIndicatorsSchema = z.object({
  /**
   * Shoulder extensors' share of the work that they and the elbow flexors do over the shortening phase, 0 to 1, with the
   * smallest hand force that holds the body. It decides, with a say of the signs: see row-rule.ts.
   */
  shoulderWorkShare: measuredSchema,
  /** Shoulder extension / (shoulder extension + elbow flexion) over the shortening phase, 0 to 1. */
  shoulderShare: measuredSchema,
  /** Largest signed distance of the elbow behind the shoulder-hip line, upper-arm lengths. */
  elbowBehindTrunkUpperArms: measuredSchema,
  /** How far the upper arm went forward against the trunk over the shortening phase, degrees, at least 0. */
  upperArmForwardDeg: measuredSchema,
  /** elbow / (elbow + shoulder) moment of a vertical hand force where both are positive, over the shortening phase. */
  elbowMomentShare: measuredSchema,
  /** The same with the force tilted 20 deg either way: the lower and the upper end of what it may be. */
  elbowMomentShareTiltedLow: measuredSchema,
  elbowMomentShareTiltedHigh: measuredSchema,
  /** Signs of the moments at the middle of the shortening phase: flexor positive, extensor positive. */
  elbowMomentSign: z.enum(['flexor', 'extensor', 'near-zero']).nullable(),
  shoulderMomentSign: z.enum(['extensor', 'flexor', 'near-zero']).nullable(),
  /** Hand's perpendicular distance from the shoulder-hip line at the start and the least, upper-arm lengths. */
  handToTrunkStartUpperArms: measuredSchema,
  handToTrunkLeastUpperArms: measuredSchema,
  /** Change of the trunk-thigh angle over the repetition, degrees; positive when the hip sags (bends) more. */
  hipSagDeg: measuredSchema,
  /** How far the hand left its place, upper-arm lengths. */
  handSlipUpperArms: measuredSchema,
});
export type RowIndicators = z.infer<typeof rowIndicatorsSchema>;

/** One repetition: start, shortening, top, lowering, end. */
export const repetitionSchema = spanSchema.extend({
  /** Onset of bending, arrival at the top, onset of lowering, its end; startSeconds is the onset of bending. */
  topStartSeconds: z.number(),
  loweringStartSeconds: z.number(),
  partial: z.boolean(),
  /** Null for exercises in which it is not judged, or when its indicators were not measured. */
  shoulderDominant: z.boolean().nullable(),
  startFlexionDeg: measuredSchema,
  topFlexionDeg: measuredSchema,
  rangeDeg: measuredSchema,
  shorteningSeconds: z.number(),
  topSeconds: z.number(),
  loweringSeconds: z.number(),
  /** Mean speed of the lowering, degrees a second, positive. */
  loweringSpeedDegPerS: z.number(),
  /** Number of speed peaks in the lowering: 1 is one smooth movement. */
  loweringSpeedPeaks: z.int().nullable(),
  torsoTravelCm: measuredSchema,
  torsoTravelUpperArms: measuredSchema,
  /** Largest minus smallest shoulder flexion, degrees. */
  upperArmMovementDeg: measuredSchema,
  trunkSwayDeg: measuredSchema,
  /** Largest minus smallest forearm rotation, degrees, and its mean. */
  forearmRotationRangeDeg: measuredSchema,
  forearmRotationMeanDeg: measuredSchema,
  /** Shares of the planned (else the set's median) range that were passed: middle and bent end. */
  usesMiddle: z.boolean().nullable(),
  usesBentEnd: z.boolean().nullable(),
  row: rowIndicatorsSchema.nullable(),
  flags: z.array(flagSchema),
});
export type Repetition = z.infer<typeof repetitionSchema>;

/** Everything judged in one set. */
export const setJudgementSchema = z.object({
  holds: z.array(holdSchema),
  repetitions: z.array(repetitionSchema),
});
export type SetJudgement = z.infer<typeof setJudgementSchema>;

/** The phase of a frame, as in frames.csv. */
export const PHASES = ['rest', 'in-range', 'bending', 'top', 'lowering'] as const;
export type Phase = (typeof PHASES)[number];
